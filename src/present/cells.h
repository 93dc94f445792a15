/* cells: what --csv prints, taken in again with the kind of each cell, for
 * other forms of the same: CSV with decimal commas, a workbook (sheets.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_CELLS_H
#define PRESENT_CELLS_H

#include "base/date.h"
#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

typedef struct {
    char **heading; /* [width] */
    char **cell;    /* row by row */
    size_t width, count, room;
} Cells;

/* Reads a stream from its start. */
StatusCode cells_read(FILE *from, Cells *rows, Status *status);
void cells_free(Cells *rows);

const char *cells_at(const Cells *rows, size_t row, size_t column);
/* Number of the column with this heading, or -1. */
int cells_column(const Cells *rows, const char *heading);

typedef enum { CELL_BLANK, CELL_TEXT, CELL_NUMBER, CELL_DATE } CellKind;

/* Does the column hold names and words of people, which stay what they are even
 * where they look like numbers? */
bool cells_are_words(const char *heading);

/* What a cell is, of the kinds that its column can hold. */
typedef struct {
    CellKind kind;
    const char *text; /* without the ' by which csv_text() defuses it */
    double number;    /* of CELL_NUMBER */
    Date date;        /* of CELL_DATE */
} Cell;

Cell cells_one(const char *heading, const char *cell);

/* Copies rows to a stream with `;` between cells and decimal commas, as
 * spreadsheets of many countries write them; `header`: with the first line.
 * Texts and dates stay. */
StatusCode cells_print_comma(FILE *from, bool header, FILE *to, Status *status);

#endif
