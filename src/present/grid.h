/* grid: tables, as aligned text for people or as CSV (RFC 4180) for programs.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_GRID_H
#define PRESENT_GRID_H

#include "base/text.h"

#include <stdbool.h>
#include <stdio.h>

enum { GRID_COLUMNS = 20 };

typedef struct {
    const char *title; /* of the column; a line break splits it */
    bool right;        /* numbers stand to the right */
} GridColumn;

typedef struct {
    const GridColumn *columns;
    int count;
    char **cells; /* row by row */
    size_t cell_count, room;
    struct GridGroup *groups; /* in the order of their rows */
    size_t group_count, group_room;
} Grid;

/* Rows that belong together, with a heading of their own. */
typedef struct GridGroup {
    size_t row; /* the first */
    char *title;
} GridGroup;

/* `columns` must outlive the grid. */
void grid_start(Grid *grid, const GridColumn *columns, int count);
/* Adds the next cell, as text_show() makes it. */
void grid_cell(Grid *grid, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* The rows that follow stand under this heading. */
void grid_group(Grid *grid, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/* Does any column have a title? */
bool grid_titled(const Grid *grid);
/* Prints the table, two blanks between columns, long text cut to `widest`. */
void grid_print(const Grid *grid, FILE *to, size_t widest);
/* Prints it no wider than `width`: a last column of text is wrapped, other
 * cells are cut to GRID_CELL; columns that do not fit side by side stand one
 * blank apart in place of two or, if that does not do, follow below, beside the
 * first one again. */
enum { GRID_CELL = 24 };
void grid_fit(const Grid *grid, FILE *to, size_t width);
void grid_free(Grid *grid);

/* ---- CSV ---- */

/* A row is cells between csv_begin() and csv_end(). */
typedef struct {
    FILE *to;
    bool first;
    char separator; /* a comma unless another is set after csv_begin() */
} Csv;

void csv_header(FILE *to, const char *names);
void csv_begin(Csv *csv, FILE *to);
/* Text is quoted where needed, and defused: a cell that a spreadsheet would
 * take for a formula (first character = + - @ tab) gets a leading '. Line
 * breaks of a file's cell stay, in quotes, so that names can be looked up;
 * other control characters, which a path may hold and RFC 4180 does not know,
 * are written as \xNN. */
void csv_text(Csv *csv, const char *text);
/* Not finite: an empty cell. */
void csv_number(Csv *csv, double value);
void csv_whole(Csv *csv, long value);
/* A number that is written already. */
void csv_figures(Csv *csv, const char *number);
void csv_end(Csv *csv);

/* ---- running text: all of it as text_show() makes it ---- */

void print_shown(FILE *to, const char *text);
/* With a line break behind it. */
void print_shown_line(FILE *to, const char *text);
/* Lines that end with a line break each, like a list of files. */
void print_lines(FILE *to, const char *lines);

/* Breaks text at blanks to lines of at most `width` columns and prints it,
 * each line after the first (or all with `hang` < 0) indented. */
void print_wrapped(FILE *to, const char *text, size_t width, int hang);

#endif
