/* workbook: see workbook.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/workbook.h"

#include "base/date.h"
#include "base/mem.h"
#include "base/text.h"

#include <errno.h>
#include <expat.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <zip.h>

/* How a number is shown. */
typedef enum { SHOWN_NUMBER, SHOWN_DATE, SHOWN_TIME, SHOWN_BOTH } Shown;

typedef struct {
    const char *path;
    Notes *notes;
    zip_t *zip;
    size_t left; /* [byte] that may still be unpacked */
    bool failed;
    bool from_1904;  /* days count from 1904-01-01 */
    char *sheet;     /* its name */
    char *relation;  /* the sheet's relation, then the path of its part */
    const char *ask; /* the sheet asked for; NULL: the first */
    Text names;      /* of all sheets, for messages */
    char *strings;   /* shared texts, each with a closing NUL */
    size_t strings_length, strings_room;
    size_t *string; /* where each begins */
    size_t string_count, string_room;
    size_t *format; /* number of a format of our own, its code in `code` */
    char **code;
    size_t format_count, format_room, code_room;
    Shown *style; /* of each cell style */
    size_t style_count, style_room;
    bool in_cell_styles;
} Workbook;

/* What is being read of the sheet. */
typedef struct {
    Workbook *book;
    FILE *to;
    size_t row, written; /* row being read; lines written so far */
    size_t column;       /* of the next cell */
    size_t width;        /* cells of the heading's row; 0: not read */
    size_t cells;
    size_t style;
    char type[16]; /* of the cell, its t */
    bool has_formula, in_value;
    bool in_phonetic; /* how a text is read aloud: no part of it */
    Text value, line;
} Sheet;

static void refuse(Workbook *b, size_t row, const char *what,
                   const char *wanted) {
    Place place = {b->path, row, NULL};
    if (!b->failed)
        notes_add(b->notes, LEVEL_ERROR, place, "%s, expected %s", what,
                  wanted);
    b->failed = true;
}

/* Not the file is at fault but the system, told by libzip's code and errno,
 * which was 0 before: libzip and expat tell of memory that is out by other
 * codes as well. */
static bool system_failed(Workbook *b, int code) {
    Place place = {b->path, 0, NULL};
    if (code == ZIP_ER_MEMORY || errno == ENOMEM)
        mem_out();
    if (errno == 0 ||
        (code != ZIP_ER_OPEN && code != ZIP_ER_READ && code != ZIP_ER_SEEK))
        return false;
    notes_add_system(b->notes, place, "%s", strerror(errno));
    return b->failed = true;
}

/* ---- parts of the archive ---- */

/* "relationships:id" and "r:id" are one: what stands behind the last blank,
 * which stands for the colon of a name space. */
static const char *local(const char *name) {
    const char *blank = strrchr(name, ' ');
    return blank ? blank + 1 : name;
}

static bool is(const char *name, const char *wanted) {
    return strcmp(local(name), wanted) == 0;
}

static const char *attribute(const XML_Char **attributes, const char *name) {
    for (size_t i = 0; attributes[i]; i += 2)
        if (is(attributes[i], name))
            return attributes[i + 1];
    return NULL;
}

static void refuse_type(void *parser, const XML_Char *name,
                        const XML_Char *system, const XML_Char *public,
                        int inside) {
    (void)name, (void)system, (void)public, (void)inside;
    XML_StopParser(parser, XML_FALSE);
}

typedef struct {
    XML_StartElementHandler start;
    XML_EndElementHandler end;
    XML_CharacterDataHandler text;
    void *with;
} Handlers;

static void parse_some(Workbook *b, XML_Parser parser, zip_file_t *file) {
    zip_int64_t got = 1;
    while (got > 0 && !b->failed) {
        void *buffer = XML_GetBuffer(parser, 1 << 16);
        if (!buffer)
            mem_out();
        errno = 0;
        got = zip_fread(file, buffer, 1 << 16);
        if (got < 0) {
            if (!system_failed(b, zip_error_code_zip(zip_file_get_error(file))))
                refuse(b, 0, "is damaged", "a whole .xlsx file");
        } else if ((size_t)got > b->left) {
            refuse(b, 0, "unpacks to more than 256 MB",
                   "a sheet of one season; save the rows of the season as a "
                   "workbook of their own");
        } else if (XML_ParseBuffer(parser, (int)got, got == 0) ==
                       XML_STATUS_ERROR &&
                   !b->failed) {
            if (XML_GetErrorCode(parser) == XML_ERROR_NO_MEMORY ||
                errno == ENOMEM)
                mem_out();
            refuse(b, 0, "has a part that is no proper XML",
                   "a workbook as a spreadsheet program saves it");
        }
        b->left -= got > 0 && !b->failed ? (size_t)got : 0;
    }
}

/* Reads a part through the handlers; false when there is none. */
static bool parse(Workbook *b, const char *part, const Handlers *handlers) {
    zip_file_t *file;
    XML_Parser parser;
    errno = 0;
    file = zip_fopen(b->zip, part, 0);
    if (!file)
        return system_failed(b, zip_error_code_zip(zip_get_error(b->zip)));
    parser = XML_ParserCreateNS(NULL, ' ');
    if (!parser)
        mem_out();
    XML_SetUserData(parser, handlers->with);
    XML_UseParserAsHandlerArg(parser);
    XML_SetUserData(parser, handlers->with);
    XML_SetElementHandler(parser, handlers->start, handlers->end);
    XML_SetCharacterDataHandler(parser, handlers->text);
    XML_SetStartDoctypeDeclHandler(parser, refuse_type);
    parse_some(b, parser, file);
    XML_ParserFree(parser);
    zip_fclose(file);
    return true;
}

static void *with_of(void *parser) {
    return XML_GetUserData((XML_Parser)parser);
}

/* ---- which sheet ---- */

static void book_start(void *parser, const char *name, const char **has) {
    Workbook *b = with_of(parser);
    const char *sheet = attribute(has, "name"), *id = attribute(has, "id");
    const char *state = attribute(has, "state");
    const char *from = attribute(has, "date1904");
    char shown[TEXT_EXCERPT];
    bool asked;
    if (is(name, "workbookPr") && from)
        b->from_1904 = strcmp(from, "1") == 0 || strcmp(from, "true") == 0;
    if (!is(name, "sheet") || !sheet || !id)
        return;
    text_add(&b->names, "%s%s", b->names.length ? ", " : "",
             text_excerpt(shown, sheet));
    asked = b->ask ? text_same(sheet, b->ask)
                   : !state || strcmp(state, "visible") == 0;
    if (asked && !b->relation) {
        b->sheet = mem_copy(sheet);
        b->relation = mem_copy(id);
    }
}

typedef struct {
    Workbook *book;
    char *target;
} Relation;

static void relation_start(void *parser, const char *name, const char **has) {
    Relation *r = with_of(parser);
    const char *id = attribute(has, "Id"), *target = attribute(has, "Target");
    if (is(name, "Relationship") && id && target && !r->target &&
        strcmp(id, r->book->relation) == 0)
        r->target = mem_copy(target);
}

/* The relation becomes the path of the sheet's part. */
static void find_part(Workbook *b) {
    Relation relation = {b, NULL};
    Handlers handlers = {relation_start, NULL, NULL, &relation};
    Text path = {0};
    if (!parse(b, "xl/_rels/workbook.xml.rels", &handlers) || !relation.target)
        refuse(b, 0, "does not say where its sheets are",
               "a workbook as a spreadsheet program saves it");
    else if (relation.target[0] == '/')
        text_add(&path, "%s", relation.target + 1);
    else
        text_add(&path, "xl/%s", relation.target);
    free(b->relation);
    b->relation = mem_copy(text_of(&path));
    free(relation.target);
    text_free(&path);
}

static void find_sheet(Workbook *b) {
    Handlers handlers = {book_start, NULL, NULL, b};
    char shown[TEXT_EXCERPT];
    Text what = {0};
    if (!parse(b, "xl/workbook.xml", &handlers) && !b->failed)
        refuse(b, 0, "is no workbook",
               "an .xlsx file as a spreadsheet program saves it");
    if (!b->failed && !b->relation) {
        if (b->ask)
            text_add(&what, "has no sheet %s", text_excerpt(shown, b->ask));
        else
            text_add(&what, "has no sheet that can be seen");
        refuse(b, 0, text_of(&what),
               b->names.length ? text_of(&b->names) : "a sheet");
    }
    text_free(&what);
    if (!b->failed)
        find_part(b);
}

/* ---- shared texts ---- */

static void strings_start(void *parser, const char *name, const char **has) {
    Sheet *s = with_of(parser);
    (void)has;
    if (is(name, "si"))
        text_clear(&s->value);
    if (is(name, "rPh"))
        s->in_phonetic = true;
    s->in_value = is(name, "t") && !s->in_phonetic;
}

static void keep_string(Workbook *b, const Text *text) {
    size_t need = b->strings_length + text->length + 1;
    b->strings = mem_grow(b->strings, &b->strings_room, need, 1);
    b->string = mem_grow(b->string, &b->string_room, b->string_count + 1,
                         sizeof *b->string);
    b->string[b->string_count++] = b->strings_length;
    memcpy(b->strings + b->strings_length, text_of(text), text->length + 1);
    b->strings_length = need;
}

static void strings_end(void *parser, const char *name) {
    Sheet *s = with_of(parser);
    s->in_value = false;
    if (is(name, "rPh"))
        s->in_phonetic = false;
    if (is(name, "si"))
        keep_string(s->book, &s->value);
}

static void value_text(void *parser, const char *bytes, int length) {
    Sheet *s = with_of(parser);
    if (s->in_value)
        text_put(&s->value, bytes, (size_t)length);
}

/* ---- how numbers are shown ---- */

/* By the letters of a format's code that stand for themselves: those in quotes,
 * in brackets or behind a backslash or an underscore do not. Minutes and months
 * share a letter: it is a minute where hours or seconds stand too. */
static Shown shown_by(const char *code) {
    bool days = false, hours = false, months = false;
    for (const char *c = code; *c && *c != ';'; c++) {
        if (*c == '"')
            c += strcspn(c + 1, "\"") + 1;
        else if (*c == '[' && !strchr("hms", c[1] | 0x20))
            c += strcspn(c, "]");
        else if ((*c == '\\' || *c == '_' || *c == '*') && c[1])
            c++;
        else if (strchr("yYdD", *c))
            days = true;
        else if (strchr("hHsS", *c))
            hours = true;
        else if (*c == 'm' || *c == 'M')
            months = true;
        if (!*c)
            break;
    }
    days = days || (months && !hours);
    return days && hours ? SHOWN_BOTH
           : days        ? SHOWN_DATE
           : hours       ? SHOWN_TIME
                         : SHOWN_NUMBER;
}

/* Formats that every program knows by number (ECMA-376, part 1, 18.8.30). */
static Shown shown_built_in(size_t format) {
    if ((format >= 14 && format <= 17) || (format >= 27 && format <= 31) ||
        format == 36 || (format >= 50 && format <= 58))
        return SHOWN_DATE;
    if ((format >= 18 && format <= 21) || (format >= 32 && format <= 35) ||
        (format >= 45 && format <= 47))
        return SHOWN_TIME;
    return format == 22 ? SHOWN_BOTH : SHOWN_NUMBER;
}

static Shown shown_as(const Workbook *b, size_t format) {
    for (size_t i = 0; i < b->format_count; i++)
        if (b->format[i] == format)
            return shown_by(b->code[i]);
    return shown_built_in(format);
}

static size_t whole_of(const char *text) {
    return text ? strtoul(text, NULL, 10) : 0;
}

static void styles_start(void *parser, const char *name, const char **has) {
    Workbook *b = with_of(parser);
    const char *id = attribute(has, "numFmtId");
    const char *code = attribute(has, "formatCode");
    if (is(name, "cellXfs"))
        b->in_cell_styles = true;
    if (is(name, "numFmt") && id && code) {
        size_t at = b->format_count++;
        b->format =
            mem_grow(b->format, &b->format_room, at + 1, sizeof *b->format);
        b->code = mem_grow(b->code, &b->code_room, at + 1, sizeof *b->code);
        b->format[at] = whole_of(id);
        b->code[at] = mem_copy(code);
    }
    if (is(name, "xf") && b->in_cell_styles) {
        b->style = mem_grow(b->style, &b->style_room, b->style_count + 1,
                            sizeof *b->style);
        b->style[b->style_count++] = shown_as(b, whole_of(id));
    }
}

static void styles_end(void *parser, const char *name) {
    Workbook *b = with_of(parser);
    if (is(name, "cellXfs"))
        b->in_cell_styles = false;
}

/* ---- cells ---- */

/* Day number N is 1899-12-30 + N from 1 March 1900 on; before, the sheets count
 * a 29 February that was none, and no date of a season lies there. */
static Date date_of_day(const Workbook *b, double day) {
    Date zero = b->from_1904 ? date_of((Civil){1904, 1, 1})
                             : date_of((Civil){1900, 3, 1}) - 61;
    if (!(day >= (b->from_1904 ? 0 : 61)) || day > 109574)
        return DATE_NONE;
    return zero + (Date)day;
}

static void put_number(const Workbook *b, double value, Shown shown,
                       Text *cell) {
    double day = floor(value + .5 / 86400);
    int minute = (int)floor((value - day) * 1440 + 1e-6);
    Date date = date_of_day(b, day);
    char text[DATE_TEXT];
    if (shown == SHOWN_NUMBER || !isfinite(value) ||
        (shown == SHOWN_TIME ? day != 0 : date == DATE_NONE)) {
        text_add(cell, "%.15g", value);
        return;
    }
    minute = minute < 0 ? 0 : minute;
    if (shown != SHOWN_TIME)
        text_add(cell, "%s", date_write(text, date));
    if (shown == SHOWN_BOTH && minute)
        text_add(cell, " ");
    if (shown == SHOWN_TIME || (shown == SHOWN_BOTH && minute))
        text_add(cell, "%02d:%02d", minute / 60, minute % 60);
}

static void put_quoted(Text *line, const char *cell) {
    text_put(line, "\"", 1);
    for (const char *c = cell; *c; c++) {
        if (*c == '"')
            text_put(line, "\"", 1);
        text_put(line, *c == '\n' || *c == '\r' ? " " : c, 1);
    }
    text_put(line, "\"", 1);
}

static void put_value(Sheet *s, Text *cell) {
    const Workbook *b = s->book;
    const char *value = text_of(&s->value);
    char *end;
    double number = strtod(value, &end);
    size_t at = whole_of(value);
    if (strcmp(s->type, "s") == 0)
        text_add(cell, "%s",
                 at < b->string_count ? b->strings + b->string[at] : "");
    else if (strcmp(s->type, "b") == 0)
        text_add(cell, "%s", value[0] == '1' ? "TRUE" : "FALSE");
    else if (strcmp(s->type, "d") == 0)
        text_put(cell, value, strcspn(value, "T"));
    else if (s->type[0] && strcmp(s->type, "n") != 0)
        text_add(cell, "%s", value);
    else if (end != value && *end == '\0')
        put_number(b, number,
                   s->style < b->style_count ? b->style[s->style]
                                             : SHOWN_NUMBER,
                   cell);
    else
        text_add(cell, "%s", value);
}

static void fill_to(Sheet *s, size_t column) {
    for (; s->column < column; s->column++)
        text_add(&s->line, "%s", s->column ? "," : "");
}

/* "B7": its column from 0, and its row; false: neither. */
static bool read_reference(const char *text, size_t *column, size_t *row) {
    size_t value = 0;
    const char *c = text;
    for (; c && ((*c >= 'A' && *c <= 'Z') || (*c >= 'a' && *c <= 'z')); c++)
        if (value <= WORKBOOK_COLUMNS)
            value = 26 * value + (size_t)((*c & ~0x20) - 'A' + 1);
    *row = whole_of(c);
    if (value == 0 || value > WORKBOOK_COLUMNS)
        return false;
    *column = value - 1;
    return true;
}

static void refuse_formula(Sheet *s, size_t column) {
    char name[4] = {0};
    size_t at = 3;
    Text what = {0};
    for (size_t n = column + 1; n && at > 0; n = (n - 1) / 26)
        name[--at] = (char)('A' + (n - 1) % 26);
    text_add(&what, "cell %s%zu has a formula without a stored value",
             name + at, s->row);
    refuse(s->book, s->row, text_of(&what),
           "values: open the file in a spreadsheet program and save it again");
    text_free(&what);
}

static void end_cell(Sheet *s) {
    Text cell = {0};
    if (s->value.length)
        put_value(s, &cell);
    else if (s->has_formula && strcmp(s->type, "str") != 0)
        refuse_formula(s, s->column);
    text_add(&s->line, "%s", s->column ? "," : "");
    if (cell.length)
        put_quoted(&s->line, text_of(&cell));
    s->column++;
    if (++s->cells > WORKBOOK_CELLS)
        refuse(s->book, s->row, "too many cells", "a sheet of one season");
    text_free(&cell);
}

static void start_cell(Sheet *s, const char **has) {
    const char *type = attribute(has, "t");
    const char *reference = attribute(has, "r");
    size_t column = s->column, row;
    if (reference && !read_reference(reference, &column, &row))
        refuse(s->book, s->row, "a cell beyond the last column",
               "at most 16,384 columns");
    if (column > s->column) {
        s->cells += column - s->column;
        fill_to(s, column);
    }
    snprintf(s->type, sizeof s->type, "%s", type ? type : "");
    s->style = whole_of(attribute(has, "s"));
    s->has_formula = false;
    text_clear(&s->value);
}

static void start_row(Sheet *s, const char **has) {
    const char *number = attribute(has, "r");
    size_t row = number ? whole_of(number) : s->row + 1;
    if (row <= s->row || row > WORKBOOK_ROWS) {
        refuse(s->book, s->row, "its rows are not in order",
               "a workbook as a spreadsheet program saves it");
        return;
    }
    s->row = row;
    s->column = 0;
    text_clear(&s->line);
}

/* Rows that are missing are blank lines; one shorter than the heading is filled
 * up. */
static void end_row(Sheet *s) {
    bool blank = true;
    for (size_t i = 0; i < s->line.length && blank; i++)
        blank = s->line.data[i] == ',';
    if (!blank) {
        if (s->width == 0)
            s->width = s->column;
        fill_to(s, s->width);
        for (; s->written + 1 < s->row; s->written++)
            fputs("\n", s->to);
        fprintf(s->to, "%s\n", text_of(&s->line));
        s->written++;
    }
}

static void refuse_merged(Sheet *s, const char *cells) {
    char shown[TEXT_EXCERPT];
    size_t column, row = 0;
    Text what = {0};
    text_add(&what, "merged cells %s", text_excerpt(shown, cells ? cells : ""));
    if (cells)
        read_reference(cells, &column, &row);
    refuse(s->book, row, text_of(&what),
           "one row of headings and a value in each cell: take the merging "
           "off, fill the cells and save again");
    text_free(&what);
}

static void sheet_start(void *parser, const char *name, const char **has) {
    Sheet *s = with_of(parser);
    if (is(name, "row"))
        start_row(s, has);
    else if (is(name, "c"))
        start_cell(s, has);
    else if (is(name, "f"))
        s->has_formula = true;
    else if (is(name, "v"))
        s->in_value = true;
    else if (is(name, "rPh"))
        s->in_phonetic = true;
    else if (is(name, "t"))
        s->in_value = !s->in_phonetic;
    else if (is(name, "mergeCell"))
        refuse_merged(s, attribute(has, "ref"));
    if (s->book->failed)
        XML_StopParser(parser, XML_FALSE);
}

static void sheet_end(void *parser, const char *name) {
    Sheet *s = with_of(parser);
    if (is(name, "v") || is(name, "t"))
        s->in_value = false;
    else if (is(name, "rPh"))
        s->in_phonetic = false;
    else if (is(name, "c"))
        end_cell(s);
    else if (is(name, "row"))
        end_row(s);
    if (s->book->failed)
        XML_StopParser(parser, XML_FALSE);
}

/* ---- a whole workbook ---- */

static void read_sheet(Workbook *b, FILE *to) {
    Sheet s = {.book = b, .to = to};
    Handlers strings = {strings_start, strings_end, value_text, &s};
    Handlers styles = {styles_start, styles_end, NULL, b};
    Handlers cells = {sheet_start, sheet_end, value_text, &s};
    find_sheet(b);
    if (!b->failed)
        parse(b, "xl/sharedStrings.xml", &strings);
    if (!b->failed)
        parse(b, "xl/styles.xml", &styles);
    s.in_value = s.in_phonetic = false;
    if (!b->failed && !parse(b, b->relation, &cells))
        refuse(b, 0, "lacks the sheet it names", "a whole .xlsx file");
    text_free(&s.value);
    text_free(&s.line);
}

static void book_free(Workbook *b) {
    for (size_t i = 0; i < b->format_count; i++)
        free(b->code[i]);
    free(b->code);
    free(b->format);
    free(b->style);
    free(b->string);
    free(b->strings);
    free(b->sheet);
    free(b->relation);
    text_free(&b->names);
    if (b->zip)
        zip_discard(b->zip);
}

/* Old workbooks and those with a password begin alike ([MS-CFB], 2.2). */
static bool is_compound(const char *path) {
    static const unsigned char magic[] = {0xD0, 0xCF, 0x11, 0xE0};
    unsigned char head[sizeof magic] = {0};
    FILE *file = fopen(path, "rb");
    bool old = file && fread(head, 1, sizeof head, file) == sizeof head &&
               memcmp(head, magic, sizeof head) == 0;
    if (file)
        fclose(file);
    return old;
}

static void refuse_archive(Workbook *b, int code) {
    Place place = {b->path, 0, NULL};
    if (system_failed(b, code))
        return;
    if (code == ZIP_ER_NOENT)
        notes_add_system(b->notes, place, "%s", strerror(errno));
    else if (is_compound(b->path))
        refuse(b, 0, "is an old .xls file or has a password",
               "an .xlsx file without a password");
    else
        refuse(b, 0, "is no .xlsx file",
               "a workbook as a spreadsheet program saves it, or a .csv file");
    b->failed = true;
}

const char *workbook_sheet(const char *path) {
    for (const char *c = path; *c; c++)
        if (c > path && strncasecmp(c, ".xlsx#", 6) == 0)
            return c + 6;
    return NULL;
}

char *workbook_path(const char *path) {
    const char *sheet = workbook_sheet(path);
    return sheet ? mem_copy_part(path, (size_t)(sheet - 1 - path))
                 : mem_copy(path);
}

bool workbook_is(const char *path) {
    size_t length = strlen(path);
    return workbook_sheet(path) ||
           (length > 5 && strcasecmp(path + length - 5, ".xlsx") == 0);
}

FILE *workbook_open(const char *path, const char *sheet, Notes *notes) {
    Workbook b = {
        .path = path, .notes = notes, .ask = sheet, .left = WORKBOOK_MOST};
    Place place = {path, 0, NULL};
    int code = 0;
    FILE *to = tmpfile();
    if (!to) {
        notes_add_system(notes, place, "no temporary file: %s",
                         strerror(errno));
        return NULL;
    }
    errno = 0;
    b.zip = zip_open(path, ZIP_RDONLY, &code);
    if (b.zip)
        read_sheet(&b, to);
    else
        refuse_archive(&b, code);
    if (!b.failed && (fflush(to) != 0 || ferror(to))) {
        notes_add_system(notes, place, "its rows cannot be kept: %s",
                         strerror(errno));
        b.failed = true;
    }
    book_free(&b);
    if (b.failed) {
        fclose(to);
        return NULL;
    }
    rewind(to);
    return to;
}
