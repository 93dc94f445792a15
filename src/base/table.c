/* table: see table.h. libcsv is fed one line at a time, so that at most one
 * row ends in a feeding and its line number is known.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/table.h"

#include "base/mem.h"
#include "base/text.h"
#include "base/workbook.h"

#include <csv.h>
#include <errno.h>
#include <iconv.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

enum {
    BLOCK = 1 << 16,         /* [byte] read at a time */
    LONGEST_FIELD = 65536,   /* [byte] */
    LONGEST_ROW = 1 << 20,   /* [byte] also the longest line */
    CONVERT_MOST = 64 << 20, /* [byte] */
    WIDEST = 4096            /* columns */
};

/* The cells of a row, each with its NUL. */
typedef struct {
    Text bytes;
    size_t *offset;    /* where each begins */
    const char **cell; /* the same, once the row is whole */
    size_t count, room, cell_room;
    bool ended;     /* libcsv has seen the end of the row */
    bool too_long;  /* a field over LONGEST_FIELD */
    size_t longest; /* which */
} Cells;

/* What tells whether a plain file changes while it is read. */
typedef struct {
    bool regular;
    intmax_t size, seconds, nanoseconds;
} Stamp;

struct Table {
    FILE *stream;
    bool own_stream;
    Stamp as_opened;
    char *name;
    TableMaps *maps;
    Notes *notes;
    struct csv_parser parser;
    bool parser_ready, failed, at_end;
    char delimiter;
    char *block; /* bytes read and not yet parsed are [start, end) */
    size_t start, end, room;
    bool drained;     /* the stream has no more */
    size_t line;      /* number of the line at `start` */
    size_t row_line;  /* number of the line on which the row began */
    size_t row_bytes; /* bytes of the row so far */
    bool in_row;      /* a quoted field is open across lines */
    Cells cells;
    size_t width;
    char **headings, **raw;
};

/* ---- maps ---- */

static char *trimmed(const char *text) {
    size_t length;
    const char *start = text_trim(text, &length);
    return mem_copy_part(start, length);
}

void table_maps_put(TableMaps *maps, const char *table, const char *ours,
                    const char *theirs, size_t line) {
    TableMap *map;
    maps->items =
        mem_grow(maps->items, &maps->room, maps->count + 1, sizeof *map);
    map = &maps->items[maps->count++];
    *map = (TableMap){
        .ours = trimmed(ours), .theirs = trimmed(theirs), .line = line};
    if (table)
        map->table = trimmed(table);
}

static void add_map(TableMaps *maps, const char *ours, const char *theirs) {
    const char *dot = strchr(ours, '.');
    char *table = dot ? mem_copy_part(ours, (size_t)(dot - ours)) : NULL;
    table_maps_put(maps, table, dot ? dot + 1 : ours, theirs, 0);
    free(table);
}

bool table_maps_add(TableMaps *maps, const char *text) {
    Text part[2] = {{0}, {0}};
    int side = 0;
    bool good = true;
    for (;; text++) {
        if (*text == '\0' || *text == ',') {
            good = good && side == 1 && part[0].length && part[1].length;
            if (good)
                add_map(maps, text_of(&part[0]), text_of(&part[1]));
            if (!good || *text == '\0')
                break;
            text_clear(&part[0]);
            text_clear(&part[1]);
            side = 0;
        } else if (*text == '=' && side == 0) {
            side = 1;
        } else {
            if (*text == '\\' && text[1] != '\0')
                text++;
            text_put(&part[side], text, 1);
        }
    }
    text_free(&part[0]);
    text_free(&part[1]);
    return good;
}

void table_maps_free(TableMaps *maps) {
    for (size_t i = 0; i < maps->count; i++) {
        free(maps->items[i].table);
        free(maps->items[i].ours);
        free(maps->items[i].theirs);
    }
    free(maps->items);
    *maps = (TableMaps){0};
}

/* ---- bytes ---- */

static void fail(Table *t, size_t line, const char *what) {
    Place place = {t->name, line, NULL};
    if (!t->failed)
        notes_add(t->notes, LEVEL_ERROR, place, "%s", what);
    t->failed = true;
}

static void fill(Table *t) {
    size_t got;
    if (t->drained)
        return;
    if (t->start > 0) {
        memmove(t->block, t->block + t->start, t->end - t->start);
        t->end -= t->start;
        t->start = 0;
    }
    t->block = mem_grow(t->block, &t->room, t->end + BLOCK, 1);
    errno = 0;
    got = fread(t->block + t->end, 1, BLOCK, t->stream);
    t->end += got;
    if (got < BLOCK)
        t->drained = true;
    if (ferror(t->stream)) {
        Place place = {t->name, 0, NULL};
        if (!t->failed)
            notes_add_system(t->notes, place, "cannot be read: %s",
                             strerror(errno ? errno : EIO));
        t->failed = true;
    }
}

static size_t line_break(const char *bytes, size_t length) {
    const char *lf = memchr(bytes, '\n', length);
    size_t until = lf ? (size_t)(lf - bytes) : length;
    const char *cr = memchr(bytes, '\r', until);
    return cr ? (size_t)(cr - bytes) : until;
}

/* Length of the next line with its end; 0 at the end of the file. Reads on
 * until the line is whole. */
static size_t next_line(Table *t) {
    size_t at = 0;
    for (;;) {
        size_t length = t->end - t->start;
        const char *bytes = t->block + t->start;
        size_t text;
        /* line_break() looks for LF first: bound it for files with CR only */
        size_t span = length - at < 4096 ? length - at : 4096;
        text = at + line_break(bytes + at, span);
        if (text < at + span) {
            bool cr = bytes[text] == '\r';
            if (cr && text + 1 == length && !t->drained) {
                fill(t);
                continue;
            }
            return text + 1 +
                   (cr && text + 1 < length && bytes[text + 1] == '\n');
        }
        at = text;
        if (at < length)
            continue;
        if (t->drained || t->failed || length > LONGEST_ROW)
            return length;
        fill(t);
    }
}

static bool check_bytes(Table *t, const char *bytes, size_t length) {
    if (length > LONGEST_ROW) {
        fail(t, t->line, "a line longer than 1 MB, expected rows of text");
        return false;
    }
    if (memchr(bytes, '\0', length)) {
        fail(t, t->line,
             "holds a NUL byte, expected plain text; if it was saved as "
             "UTF-16 (\"Unicode text\"), save it again as CSV UTF-8");
        return false;
    }
    if (utf8_check(bytes, length) < length) {
        fail(
            t, t->line,
            "holds bytes that are not UTF-8, expected UTF-8; it may be Latin-1 "
            "or Windows-1252: save it again as CSV UTF-8, or add --encoding "
            "latin1");
        return false;
    }
    return true;
}

/* ---- cells ---- */

static void begin_cell(Cells *cells, size_t offset) {
    if (cells->count >= cells->room)
        cells->offset = mem_grow(cells->offset, &cells->room, cells->count + 1,
                                 sizeof *cells->offset);
    cells->offset[cells->count++] = offset;
}

/* ---- libcsv ---- */

/* A cell and its NUL. */
static void put_cell(Text *to, const void *bytes, size_t length) {
    if (to->length + length + 2 > to->room)
        to->data = mem_grow(to->data, &to->room, to->length + length + 2, 1);
    if (length)
        memcpy(to->data + to->length, bytes, length);
    to->length += length + 1;
    to->data[to->length - 1] = to->data[to->length] = '\0';
}

static void take_field(void *bytes, size_t length, void *data) {
    Cells *cells = data;
    if (length > LONGEST_FIELD) {
        cells->too_long = true;
        cells->longest = cells->count;
        length = utf8_check(bytes, 200);
    }
    begin_cell(cells, cells->bytes.length);
    put_cell(&cells->bytes, bytes, bytes ? length : 0);
}

static void take_end(int terminator, void *data) {
    Cells *cells = data;
    (void)terminator;
    cells->cell = mem_grow(cells->cell, &cells->cell_room, cells->count,
                           sizeof *cells->cell);
    for (size_t i = 0; i < cells->count; i++)
        cells->cell[i] = cells->bytes.data + cells->offset[i];
    cells->ended = true;
}

static bool only_blanks(const Table *t, const char *bytes, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (!strchr(" \t\r\n", bytes[i]) || bytes[i] == t->delimiter)
            return false;
    return true;
}

static void begin_row(Table *t) {
    t->cells.count = 0;
    t->cells.ended = false;
    text_clear(&t->cells.bytes);
    t->row_bytes = 0;
}

static void parse_trouble(Table *t) {
    int error = csv_error(&t->parser);
    if (error == CSV_ENOMEM || error == CSV_ETOOBIG)
        mem_out();
    fail(t, t->line,
         "a quotation mark where none may stand, expected cells with "
         "quotation marks to be written \"like \"\"this\"\"\"");
}

/* Feeds one line. */
static void feed(Table *t, size_t length) {
    const char *bytes = t->block + t->start;
    if (!check_bytes(t, bytes, length))
        return;
    if (!t->in_row && only_blanks(t, bytes, length))
        return;
    if (!t->in_row) {
        begin_row(t);
        t->row_line = t->line;
        t->in_row = true;
    }
    t->row_bytes += length;
    if (t->row_bytes > LONGEST_ROW) {
        fail(
            t, t->row_line,
            "a row longer than 1 MB, expected a short one; is a quotation mark "
            "left open here?");
        return;
    }
    if (csv_parse(&t->parser, bytes, length, take_field, take_end, &t->cells) !=
        length)
        parse_trouble(t);
    if (t->cells.ended)
        t->in_row = false;
}

static Stamp stamp_of(FILE *stream) {
    struct stat about;
    if (fstat(fileno(stream), &about) != 0 || !S_ISREG(about.st_mode))
        return (Stamp){0};
    return (Stamp){true, about.st_size, about.st_mtim.tv_sec,
                   about.st_mtim.tv_nsec};
}

/* If it is not what it was, rows may be missing or cut. */
static void check_unchanged(Table *t) {
    Place place = {t->name, 0, NULL};
    Stamp now;
    if (!t->as_opened.regular)
        return;
    now = stamp_of(t->stream);
    if (now.size == t->as_opened.size && now.seconds == t->as_opened.seconds &&
        now.nanoseconds == t->as_opened.nanoseconds)
        return;
    notes_add_system(t->notes, place,
                     "was changed while it was read, expected it to stay as "
                     "it is: run this again");
    t->failed = true;
}

static void finish(Table *t) {
    t->at_end = true;
    check_unchanged(t);
    if (t->failed || !t->in_row)
        return;
    if (csv_fini(&t->parser, take_field, take_end, &t->cells) != 0) {
        int error = csv_error(&t->parser);
        if (error == CSV_ENOMEM || error == CSV_ETOOBIG)
            mem_out();
        fail(
            t, t->row_line,
            "a quotation mark opened in this row is never closed, expected one "
            "more");
    }
    t->in_row = false;
}

/* Reads until a row is whole. */
static bool read_row(Table *t) {
    if (t->failed || t->at_end)
        return false;
    t->cells.ended = false;
    for (;;) {
        size_t length;
        length = next_line(t);
        if (t->failed)
            return false;
        if (length == 0) {
            finish(t);
            break;
        }
        feed(t, length);
        t->start += length;
        t->line++;
        if (t->failed || t->cells.ended)
            break;
    }
    return !t->failed && t->cells.ended;
}

/* ---- header ---- */

/* The rest of a file that is to be converted, in the block. */
static bool read_whole(Table *t) {
    while (!t->drained && !t->failed && t->end <= CONVERT_MOST)
        fill(t);
    if (t->end > CONVERT_MOST)
        fail(t, 1,
             "is not UTF-8 and has more than 64 MB, expected UTF-8: save it "
             "again as CSV UTF-8");
    return !t->failed;
}

/* Converts all of it by iconv. */
static void convert(Table *t, const char *code, const char *trouble) {
    iconv_t conversion = iconv_open("UTF-8", code);
    size_t left = t->end, room = 3 * left + BLOCK;
    char *from = t->block, *block = mem_new(room, 1), *to = block;
    t->room = room;
    if (conversion == (iconv_t)-1 ||
        iconv(conversion, &from, &left, &to, &room) == (size_t)-1)
        fail(t, 1, trouble);
    if (conversion != (iconv_t)-1)
        iconv_close(conversion);
    free(t->block);
    t->block = block;
    t->start = 0;
    t->end = (size_t)(to - block);
}

/* Latin-1 where that is asked for and it is no UTF-8. */
static void convert_latin1(Table *t) {
    if (t->maps && t->maps->latin1 && read_whole(t) &&
        utf8_check(t->block, t->end) < t->end)
        convert(t, "CP1252",
                "is neither UTF-8 nor Latin-1, expected one of them");
}

static void skip_mark(Table *t) {
    const unsigned char *b = (const unsigned char *)t->block;
    if (t->end >= 2 &&
        ((b[0] == 0xFF && b[1] == 0xFE) || (b[0] == 0xFE && b[1] == 0xFF))) {
        if (read_whole(t)) /* its mark: Unicode standard, 23.8 */
            convert(t, "UTF-16",
                    "is UTF-16 that is cut or damaged, expected a whole file: "
                    "save it again as CSV UTF-8");
    } else if (t->end >= 3 && memcmp(b, "\xEF\xBB\xBF", 3) == 0) {
        t->start = 3;
    } else {
        convert_latin1(t);
    }
}

/* A spreadsheet's `sep=;` first line. */
static bool take_separator_line(Table *t) {
    size_t length = next_line(t);
    const char *bytes = t->block + t->start;
    char word[5] = {0};
    if (length < 5)
        return false;
    memcpy(word, bytes, 4);
    if (!text_same(word, "sep=") || !memchr(",;\t", bytes[4], 3))
        return false;
    if (length > 5 && bytes[5] != '\r' && bytes[5] != '\n')
        return false;
    t->delimiter = bytes[4];
    t->start += length;
    t->line++;
    return true;
}

/* The most frequent candidate in the first line with text, outside quotes. */
static char detect(const Table *t) {
    static const char candidate[] = {',', ';', '\t'};
    size_t found[3] = {0, 0, 0}, best = 0;
    bool quoted = false, text = false;
    for (size_t i = t->start; i < t->end; i++) {
        char c = t->block[i];
        if (c == '"')
            quoted = !quoted;
        if (!quoted && (c == '\n' || c == '\r')) {
            if (text)
                break;
            memset(found, 0, sizeof found);
        }
        text = text || !strchr(" \t\r\n,;\"", c);
        for (size_t k = 0; k < 3 && !quoted; k++)
            found[k] += c == candidate[k];
    }
    for (size_t k = 1; k < 3; k++)
        if (found[k] > found[best])
            best = k;
    return candidate[best];
}

/* "sessions" for "folder/sessions.csv". */
static bool concerns(const TableMap *map, const char *name) {
    const char *slash = strrchr(name, '/'), *base = slash ? slash + 1 : name;
    size_t length = strcspn(base, ".");
    return !map->table || (strlen(map->table) == length &&
                           strncasecmp(map->table, base, length) == 0);
}

static TableMap *map_of(const Table *t, const char *raw) {
    for (size_t i = 0; t->maps && i < t->maps->count; i++)
        if (text_same(t->maps->items[i].theirs, raw) &&
            concerns(&t->maps->items[i], t->name))
            return &t->maps->items[i];
    return NULL;
}

/* A file's own column gives way to the one mapped to its name. */
static bool outdone(const Table *t, size_t column) {
    for (size_t i = 0; i < t->width; i++)
        if (i != column && map_of(t, t->raw[i]) &&
            text_same(t->headings[i], t->raw[column]))
            return true;
    return false;
}

static void name_columns(Table *t) {
    for (size_t i = 0; i < t->width; i++) {
        TableMap *map = map_of(t, t->raw[i]);
        t->headings[i] = mem_copy(map ? map->ours : t->raw[i]);
        if (map)
            map->used = true;
    }
    for (size_t i = 0; i < t->width; i++)
        if (!map_of(t, t->raw[i]) && outdone(t, i)) {
            free(t->headings[i]);
            t->headings[i] = mem_copy("ignore");
        }
}

static void check_twice(Table *t) {
    for (size_t i = 0; i < t->width; i++)
        for (size_t k = i + 1; k < t->width; k++)
            if (t->headings[i][0] && !text_same(t->headings[i], "ignore") &&
                text_same(t->headings[i], t->headings[k])) {
                char shown[TEXT_EXCERPT];
                Place place = {t->name, t->row_line, t->headings[i]};
                notes_add(t->notes, LEVEL_ERROR, place,
                          "the heading %s stands twice (columns %zu and %zu), "
                          "expected once",
                          text_excerpt(shown, t->headings[i]), i + 1, k + 1);
                t->failed = true;
                return;
            }
}

static bool all_blank(const Table *t, size_t from) {
    for (size_t i = from; i < t->cells.count; i++)
        if (!text_blank(t->cells.cell[i]))
            return false;
    return true;
}

static void read_header(Table *t) {
    do {
        if (!read_row(t)) {
            fail(t, 0, "is empty, expected a header row with column names");
            return;
        }
    } while (!t->cells.too_long && all_blank(t, 0));
    t->width = t->cells.count;
    while (t->width > 0 && text_blank(t->cells.cell[t->width - 1]))
        t->width--;
    if (t->width > WIDEST || t->cells.too_long) {
        fail(t, t->row_line,
             "more than 4096 columns or a heading over 64 kB, "
             "expected a header row with column names");
        t->width = 0;
        return;
    }
    t->headings = mem_new(t->width, sizeof *t->headings);
    t->raw = mem_new(t->width, sizeof *t->raw);
    for (size_t i = 0; i < t->width; i++)
        t->raw[i] = trimmed(t->cells.cell[i]);
    name_columns(t);
    check_twice(t);
}

/* ---- the table ---- */

static Table *open_stream(FILE *stream, bool own, const char *name,
                          TableMaps *maps, Notes *notes) {
    Table *t = mem_new(1, sizeof *t);
    t->stream = stream;
    t->own_stream = own;
    if (own)
        t->as_opened = stamp_of(stream);
    t->name = mem_copy(name);
    t->maps = maps;
    t->notes = notes;
    t->line = 1;
    if (csv_init(&t->parser,
                 CSV_STRICT | CSV_STRICT_FINI | CSV_EMPTY_IS_NULL) != 0)
        mem_out();
    t->parser_ready = true;
    csv_set_blk_size(&t->parser, 4096);
    fill(t);
    skip_mark(t);
    if (!t->failed && !take_separator_line(t))
        t->delimiter = detect(t);
    csv_set_delim(&t->parser, (unsigned char)t->delimiter);
    if (!t->failed)
        read_header(t);
    if (t->failed) {
        table_close(t);
        return NULL;
    }
    return t;
}

Table *table_open_stream(void *stream, const char *name, TableMaps *maps,
                         Notes *notes) {
    return open_stream(stream, false, name, maps, notes);
}

static FILE *open_plain(const char *path, Notes *notes) {
    Place place = {path, 0, NULL};
    FILE *stream = fopen(path, "rb");
    if (!stream)
        notes_add_system(notes, place, "cannot be opened: %s", strerror(errno));
    return stream;
}

Table *table_open(const char *path, TableMaps *maps, Notes *notes) {
    Place place = {path, 0, NULL};
    char *file = workbook_is(path) ? workbook_path(path) : mem_copy(path);
    struct stat about;
    bool there = stat(file, &about) == 0;
    FILE *stream = NULL;
    /* a named pipe would be waited for; the shell's own are fine */
    if (there && S_ISFIFO(about.st_mode) && strncmp(file, "/dev/", 5) != 0 &&
        strncmp(file, "/proc/", 6) != 0)
        notes_add_system(notes, place, "is a named pipe, expected a CSV file");
    else if (there && S_ISDIR(about.st_mode))
        notes_add_system(notes, place, "is a folder, expected a CSV file");
    else if (there && workbook_is(path))
        stream = workbook_open(file, workbook_sheet(path), notes);
    else
        stream = open_plain(file, notes);
    free(file);
    return stream ? open_stream(stream, true, path, maps, notes) : NULL;
}

static void ragged(Table *t) {
    Place place = {t->name, t->row_line, NULL};
    char shown[TEXT_EXCERPT];
    notes_add(t->notes, LEVEL_ERROR, place,
              "this row has %zu cells (the first reads %s), expected %zu as "
              "in the header",
              t->cells.count, text_excerpt(shown, t->cells.cell[0]), t->width);
}

static void too_long(Table *t) {
    Place place = {t->name, t->row_line, NULL};
    char shown[TEXT_EXCERPT];
    notes_add(t->notes, LEVEL_ERROR, place,
              "a cell of more than 64 kB that begins %s, expected short text",
              text_excerpt(shown, t->cells.cell[t->cells.longest]));
    t->cells.too_long = false;
}

/* Rows that hold nothing or cannot be used are passed over. */
static bool usable(Table *t) {
    if (t->cells.too_long) {
        too_long(t);
        return false;
    }
    if (all_blank(t, 0))
        return false;
    if (t->cells.count < t->width ||
        (t->cells.count > t->width && !all_blank(t, t->width))) {
        ragged(t);
        return false;
    }
    return true;
}

bool table_next(Table *t, TableRow *row) {
    do {
        if (!read_row(t))
            return false;
    } while (!usable(t));
    row->line = t->row_line;
    row->count = t->width;
    row->cells = t->cells.cell;
    return true;
}

size_t table_width(const Table *t) {
    return t->width;
}

const char *table_heading(const Table *t, size_t column) {
    return t->headings[column];
}

const char *table_heading_raw(const Table *t, size_t column) {
    return t->raw[column];
}

int table_column(const Table *t, const char *heading) {
    for (size_t i = 0; i < t->width; i++)
        if (text_same(t->headings[i], heading))
            return (int)i;
    return -1;
}

NumberStyle table_style(const Table *t) {
    return (NumberStyle){t->delimiter == ';'};
}

const char *table_name(const Table *t) {
    return t->name;
}

void table_close(Table *t) {
    if (!t)
        return;
    if (t->parser_ready)
        csv_free(&t->parser);
    if (t->own_stream)
        fclose(t->stream);
    for (size_t i = 0; i < t->width && t->headings; i++) {
        free(t->headings[i]);
        free(t->raw[i]);
    }
    free(t->headings);
    free(t->raw);
    free(t->cells.cell);
    free(t->cells.offset);
    text_free(&t->cells.bytes);
    free(t->block);
    free(t->name);
    free(t);
}
