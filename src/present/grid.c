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

void grid_cell(Grid *grid, const char *format, ...) {
    va_list list, again;
    int length;
    char *whole;
    Text cell = {0};
    va_start(list, format);
    va_copy(again, list);
    length = vsnprintf(NULL, 0, format, list);
    va_end(list);
    whole = mem_new((size_t)(length > 0 ? length : 0) + 1, 1);
    vsnprintf(whole, (size_t)length + 1, format, again);
    va_end(again);
    text_put(&cell, "", 0);
    text_show(&cell, whole);
    free(whole);
    grid->cells = mem_grow(grid->cells, &grid->room, grid->cell_count + 1,
                           sizeof *grid->cells);
    grid->cells[grid->cell_count++] = cell.data;
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

static int title_lines(const Grid *grid) {
    int most = 1;
    for (int c = 0; c < grid->count; c++) {
        int own = 1;
        for (const char *s = grid->columns[c].title; *s; s++)
            own += *s == '\n';
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

void grid_free(Grid *grid) {
    for (size_t i = 0; i < grid->cell_count; i++)
        free(grid->cells[i]);
    free(grid->cells);
    *grid = (Grid){0};
}

/* ---- CSV ---- */

void csv_header(FILE *to, const char *names) {
    fprintf(to, "%s\n", names);
}

void csv_begin(Csv *csv, FILE *to) {
    *csv = (Csv){to, true};
}

static void separate(Csv *csv) {
    if (!csv->first)
        fputc(',', csv->to);
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
    separate(csv);
    fputs(number_write(buffer, value), csv->to);
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

/* Bytes of the next word; "5 %" is one. */
static size_t word_length(const char *text) {
    size_t length = strcspn(text, " ");
    if (length > 0 && isdigit((unsigned char)text[length - 1]) &&
        strncmp(text + length, " %", 2) == 0)
        length += 1 + strcspn(text + length + 1, " ");
    return length;
}

/* The next word, or as much of it as a line takes; returns its bytes. */
static size_t next_word(const char *text, size_t width, char **word,
                        size_t *wide) {
    size_t length = word_length(text), fit;
    *word = mem_copy_part(text, length);
    fit = utf8_fit(*word, width > 0 ? width : 1);
    if (fit > 0 && fit < length) {
        (*word)[fit] = '\0';
        length = fit;
    }
    *wide = utf8_width(*word);
    return length;
}

static void print_words(FILE *to, const char *text, size_t width, int hang) {
    size_t indent = (size_t)(hang < 0 ? -hang : hang);
    size_t column = 0;
    bool first = true, blank = false;
    while (*text) {
        char *word;
        size_t wide, room = width > indent ? width - indent : 1;
        size_t length = next_word(text, room, &word, &wide);
        if (first && hang < 0)
            column += (size_t)fprintf(to, "%*s", (int)indent, "");
        if (!first && column + blank + wide > width) {
            fprintf(to, "\n%*s", (int)indent, "");
            column = indent;
        } else if (blank) {
            fputc(' ', to);
            column++;
        }
        fputs(word, to);
        column += wide;
        first = false;
        free(word);
        text += length;
        blank = *text == ' ';
        while (*text == ' ')
            text++;
    }
    fputc('\n', to);
}

void print_wrapped(FILE *to, const char *text, size_t width, int hang) {
    Text shown = {0};
    text_show(&shown, text);
    print_words(to, text_of(&shown), width, hang);
    text_free(&shown);
}
