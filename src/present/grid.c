/* grid: see grid.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/grid.h"

#include "base/mem.h"
#include "base/number.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

void grid_start(Grid *grid, const GridColumn *columns, int count) {
    *grid = (Grid){.columns = columns, .count = count};
}

/* What printf makes of it, as text_show() has it. */
static char *cell_text(const char *format, va_list list) {
    va_list again;
    int length;
    char *whole;
    Text cell = {0};
    va_copy(again, list);
    length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    whole = mem_new((size_t)(length > 0 ? length : 0) + 1, 1);
    vsnprintf(whole, (size_t)length + 1, format, list);
    text_put(&cell, "", 0);
    text_show(&cell, whole);
    free(whole);
    return cell.data;
}

void grid_cell(Grid *grid, const char *format, ...) {
    va_list list;
    va_start(list, format);
    grid->cells = mem_grow(grid->cells, &grid->room, grid->cell_count + 1,
                           sizeof *grid->cells);
    grid->cells[grid->cell_count++] = cell_text(format, list);
    va_end(list);
}

void grid_group(Grid *grid, const char *format, ...) {
    va_list list;
    va_start(list, format);
    grid->groups = mem_grow(grid->groups, &grid->group_room,
                            grid->group_count + 1, sizeof *grid->groups);
    grid->groups[grid->group_count++] = (GridGroup){
        grid->cell_count / (size_t)grid->count, cell_text(format, list)};
    va_end(list);
}

static void put(Text *line, const char *text, size_t bytes, size_t pad,
                bool right) {
    if (right)
        text_add(line, "%*s", (int)pad, "");
    text_put(line, text, bytes);
    if (!right)
        text_add(line, "%*s", (int)pad, "");
}

/* Prints a line without the blanks at its end. */
static void end_line(Text *line, FILE *to) {
    while (line->length > 0 && line->data[line->length - 1] == ' ')
        line->length--;
    fprintf(to, "%.*s\n", (int)line->length, text_of(line));
    text_clear(line);
}

/* The line-th line of a title; empty when it has fewer. Titles stand at the
 * bottom of the header. */
static const char *title_line(const char *title, int line, int lines,
                              size_t *bytes) {
    int own = 1;
    const char *end;
    for (const char *s = title; *s; s++)
        own += *s == '\n';
    for (int skip = lines - own; line > skip && *title; skip++) {
        title = strchr(title, '\n');
        if (!title)
            break;
        title++;
    }
    *bytes = 0;
    if (line < lines - own || !title)
        return "";
    end = strchr(title, '\n');
    *bytes = end ? (size_t)(end - title) : strlen(title);
    return title;
}

static int count_lines(const char *text) {
    int lines = 1;
    for (; *text; text++)
        lines += *text == '\n';
    return lines;
}

static int title_lines(const Grid *grid) {
    int most = 1;
    for (int c = 0; c < grid->count; c++) {
        int own = count_lines(grid->columns[c].title);
        most = own > most ? own : most;
    }
    return most;
}

/* The first bytes of a text in at most `most` columns; returns how many it
 * takes. */
static size_t part_width(const char *text, size_t bytes, size_t most,
                         Text *shown) {
    char *part = mem_copy_part(text, bytes);
    Text safe = {0}; /* titles may be names */
    text_show(&safe, part);
    text_clear(shown);
    text_shorten(shown, text_of(&safe), most);
    text_free(&safe);
    free(part);
    return utf8_width(text_of(shown));
}

static size_t width_of(const Grid *grid, int column, int lines, size_t widest) {
    size_t width = 0;
    Text shown = {0};
    for (int line = 0; line < lines; line++) {
        size_t bytes;
        const char *text =
            title_line(grid->columns[column].title, line, lines, &bytes);
        size_t wide = part_width(text, bytes, widest, &shown);
        width = wide > width ? wide : width;
    }
    for (size_t i = (size_t)column; i < grid->cell_count;
         i += (size_t)grid->count) {
        size_t own = utf8_width(grid->cells[i]);
        width = own > width ? own : width;
    }
    text_free(&shown);
    return width > widest ? widest : width;
}

static void print_titles(const Grid *grid, const size_t *width, FILE *to) {
    int lines = title_lines(grid);
    Text out = {0}, shown = {0};
    for (int line = 0; line < lines; line++) {
        for (int c = 0; c < grid->count; c++) {
            size_t bytes, wide;
            const char *text =
                title_line(grid->columns[c].title, line, lines, &bytes);
            text_add(&out, c ? "  " : "");
            wide = part_width(text, bytes, width[c], &shown);
            put(&out, text_of(&shown), shown.length, width[c] - wide,
                grid->columns[c].right);
        }
        end_line(&out, to);
    }
    text_free(&out);
    text_free(&shown);
}

void grid_print(const Grid *grid, FILE *to, size_t widest) {
    size_t width[GRID_COLUMNS];
    Text line = {0};
    for (int c = 0; c < grid->count; c++)
        width[c] = width_of(grid, c, title_lines(grid), widest);
    print_titles(grid, width, to);
    for (size_t i = 0; i < grid->cell_count; i++) {
        int c = (int)(i % (size_t)grid->count);
        bool last = c + 1 == grid->count;
        Text cell = {0};
        size_t wide;
        if (last || utf8_width(grid->cells[i]) <= width[c])
            text_add(&cell, "%s", grid->cells[i]);
        else
            text_shorten(&cell, grid->cells[i], width[c]);
        wide = utf8_width(text_of(&cell));
        text_add(&line, c ? "  " : "");
        put(&line, text_of(&cell), cell.length,
            wide < width[c] ? width[c] - wide : 0, grid->columns[c].right);
        text_free(&cell);
        if (last)
            end_line(&line, to);
    }
    text_free(&line);
}

/* ---- within a width ---- */

/* Bytes of the next word; "5 %" is one. */
static size_t word_length(const char *text) {
    size_t length = strcspn(text, " ");
    if (length > 0 && isdigit((unsigned char)text[length - 1]) &&
        strncmp(text + length, " %", 2) == 0)
        length += 1 + strcspn(text + length + 1, " ");
    return length;
}

static size_t part_columns(const char *text, size_t bytes) {
    char *part = mem_copy_part(text, bytes);
    size_t columns = utf8_width(part);
    free(part);
    return columns;
}

/* Bytes of the words that a line of `width` columns takes; of a word that is
 * longer, as much as it takes. */
static size_t line_length(const char *text, size_t width) {
    size_t taken = 0;
    while (text[taken]) {
        size_t blanks = strspn(text + taken, " ");
        size_t word = word_length(text + taken + blanks);
        if (word == 0 || part_columns(text, taken + blanks + word) > width)
            break;
        taken += blanks + word;
    }
    if (taken == 0 && *text) {
        taken = utf8_fit(text, width);
        taken = taken ? taken : utf8_fit(text, 2);
    }
    return taken;
}

static void print_words(FILE *to, const char *text, size_t width, int hang);

/* Some of a table's columns, side by side. */
typedef struct {
    const Grid *grid;
    int pick[GRID_COLUMNS];
    size_t width[GRID_COLUMNS];
    int count;
    size_t room; /* columns of the terminal */
    int gap;     /* blanks between two columns */
    bool wraps;  /* the last one of them */
} Strip;

/* The next line of a cell, padded; moves `cell` on. */
static void strip_cell(const Strip *s, int at, const char **cell, Text *line) {
    bool wraps = s->wraps && at + 1 == s->count;
    bool right = s->grid->columns[s->pick[at]].right;
    size_t width = s->width[at], wide;
    Text own = {0};
    if (wraps)
        text_put(&own, *cell, line_length(*cell, width));
    else
        text_shorten(&own, *cell, width);
    wide = utf8_width(text_of(&own));
    *cell += wraps ? own.length : strlen(*cell);
    *cell += strspn(*cell, " ");
    text_add(line, "%*s", at ? s->gap : 0, "");
    put(line, text_of(&own), own.length, wide < width ? width - wide : 0,
        right);
    text_free(&own);
}

/* A row takes as many lines as its last cell. */
static void strip_row(const Strip *s, size_t row, FILE *to) {
    char *const *cells = s->grid->cells + row * (size_t)s->grid->count;
    const char *left[GRID_COLUMNS];
    Text line = {0};
    bool more = true;
    for (int i = 0; i < s->count; i++)
        left[i] = cells[s->pick[i]];
    while (more) {
        for (int i = 0; i < s->count; i++)
            strip_cell(s, i, &left[i], &line);
        end_line(&line, to);
        more = *left[s->count - 1] != '\0';
    }
    text_free(&line);
}

/* Lines of its columns' titles. */
static int strip_lines(const Strip *s) {
    int most = 1;
    for (int i = 0; i < s->count; i++) {
        int own = count_lines(s->grid->columns[s->pick[i]].title);
        most = own > most ? own : most;
    }
    return most;
}

static void strip_titles(const Strip *s, FILE *to) {
    int lines = strip_lines(s);
    Text out = {0}, cut = {0};
    for (int line = 0; line < lines; line++) {
        for (int i = 0; i < s->count; i++) {
            const GridColumn *column = &s->grid->columns[s->pick[i]];
            size_t bytes;
            const char *text = title_line(column->title, line, lines, &bytes);
            size_t wide = part_width(text, bytes, s->width[i], &cut);
            text_add(&out, "%*s", i ? s->gap : 0, "");
            put(&out, text_of(&cut), cut.length, s->width[i] - wide,
                column->right);
        }
        end_line(&out, to);
    }
    text_free(&out);
    text_free(&cut);
}

bool grid_titled(const Grid *grid) {
    for (int c = 0; c < grid->count; c++)
        if (grid->columns[c].title[0])
            return true;
    return false;
}

static void strip_print(const Strip *s, FILE *to) {
    const Grid *grid = s->grid;
    size_t rows = grid->cell_count / (size_t)grid->count, group = 0;
    if (grid_titled(grid))
        strip_titles(s, to);
    for (size_t row = 0; row < rows; row++) {
        for (; group < grid->group_count && grid->groups[group].row == row;
             group++) {
            if (row > 0)
                fputc('\n', to);
            print_words(to, grid->groups[group].title, s->room, 2);
        }
        strip_row(s, row, to);
    }
}

enum { WRAPPED = 16 /* columns that wrapped text gets at least */ };

/* Takes the first column and those from `from` on that fit; returns the first
 * that does not. */
static int strip_take(Strip *s, int from) {
    const Grid *grid = s->grid;
    int lines = title_lines(grid), c = from;
    size_t used = 0, width = s->room, gap = (size_t)s->gap;
    s->count = 0;
    s->wraps = false;
    for (int pick = 0; pick < grid->count; pick = c) {
        bool wraps =
            pick > 0 && pick + 1 == grid->count && !grid->columns[pick].right;
        size_t own = width_of(grid, pick, lines, wraps ? width : GRID_CELL);
        size_t need = wraps && own > WRAPPED ? WRAPPED : own;
        if (s->count > 1 && used + gap + need > width)
            break;
        used += s->count ? gap : 0;
        if (wraps && used + own > width)
            own = used + need < width ? width - used : need;
        s->wraps = wraps;
        s->pick[s->count] = pick;
        s->width[s->count++] = own;
        used += own;
        c += pick > 0;
    }
    return c;
}

void grid_fit(const Grid *grid, FILE *to, size_t width) {
    Strip strip = {.grid = grid, .room = width, .gap = 2}, close = strip;
    int next = strip_take(&strip, 1);
    close.gap = 1;
    if (next < grid->count && strip_take(&close, 1) == grid->count) {
        strip = close;
        next = grid->count;
    }
    strip_print(&strip, to);
    while (next < grid->count) {
        fputc('\n', to);
        next = strip_take(&strip, next);
        strip_print(&strip, to);
    }
}

void grid_free(Grid *grid) {
    for (size_t i = 0; i < grid->cell_count; i++)
        free(grid->cells[i]);
    for (size_t i = 0; i < grid->group_count; i++)
        free(grid->groups[i].title);
    free(grid->cells);
    free(grid->groups);
    *grid = (Grid){0};
}

/* ---- CSV ---- */

void csv_header(FILE *to, const char *names) {
    fprintf(to, "%s\n", names);
}

void csv_begin(Csv *csv, FILE *to) {
    *csv = (Csv){to, true, ','};
}

static void separate(Csv *csv) {
    if (!csv->first)
        fputc(csv->separator, csv->to);
    csv->first = false;
}

static bool is_ascii(const char *text) {
    while (*text >= ' ' && *text < 0x7F)
        text++;
    return *text == '\0';
}

static void put_cell(FILE *to, const char *text) {
    bool danger = *text && strchr("=+-@\t\r", *text);
    if (!danger && !strpbrk(text, ",;\"\r\n") && *text != ' ') {
        fputs(text, to);
        return;
    }
    fputs(danger ? "\"'" : "\"", to);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', to);
        fputc(*text, to);
    }
    fputc('"', to);
}

void csv_text(Csv *csv, const char *text) {
    Text data = {0};
    if (!is_ascii(text)) {
        text_show_data(&data, text);
        text = text_of(&data);
    }
    separate(csv);
    put_cell(csv->to, text);
    text_free(&data);
}

void csv_number(Csv *csv, double value) {
    char buffer[NUMBER_TEXT];
    csv_figures(csv, number_write(buffer, value));
}

void csv_figures(Csv *csv, const char *number) {
    separate(csv);
    fputs(number, csv->to);
}

void csv_whole(Csv *csv, long value) {
    separate(csv);
    fprintf(csv->to, "%ld", value);
}

void csv_end(Csv *csv) {
    fputc('\n', csv->to);
}

/* ---- running text ---- */

void print_shown(FILE *to, const char *text) {
    Text shown = {0};
    text_show(&shown, text);
    fputs(text_of(&shown), to);
    text_free(&shown);
}

void print_shown_line(FILE *to, const char *text) {
    print_shown(to, text);
    fputc('\n', to);
}

void print_lines(FILE *to, const char *lines) {
    while (*lines) {
        size_t length = strcspn(lines, "\n");
        char *line = mem_copy_part(lines, length);
        print_shown_line(to, line);
        free(line);
        lines += length + (lines[length] == '\n');
    }
}

static void print_words(FILE *to, const char *text, size_t width, int hang) {
    size_t indent = (size_t)(hang < 0 ? -hang : hang);
    size_t left = hang < 0 ? indent : 0;
    do {
        size_t length = line_length(text, width > left ? width - left : 1);
        fprintf(to, "%*s%.*s\n", (int)left, "", (int)length, text);
        text += length;
        text += strspn(text, " ");
        left = indent;
    } while (*text);
}

/* Several blanks count as one. */
static void join_blanks(char *text) {
    char *to = text;
    for (; *text; text++)
        if (*text != ' ' || text[1] != ' ')
            *to++ = *text;
    *to = '\0';
}

void print_wrapped(FILE *to, const char *text, size_t width, int hang) {
    Text shown = {0};
    text_put(&shown, "", 0);
    text_show(&shown, text);
    join_blanks(shown.data);
    print_words(to, text_of(&shown), width, hang);
    text_free(&shown);
}
