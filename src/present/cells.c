/* cells: see cells.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/cells.h"

#include "base/mem.h"
#include "base/number.h"
#include "base/table.h"
#include "base/text.h"
#include "present/grid.h"

#include <stdlib.h>
#include <string.h>

static Table *open_rows(FILE *from, Notes *notes) {
    rewind(from);
    return table_open_stream(from, "the answer", NULL, notes);
}

/* What we wrote ourselves can be read, unless the system fails. */
static StatusCode close_rows(Table *table, Notes *notes, Status *status) {
    table_close(table);
    for (size_t i = 0; i < notes->count; i++)
        if (notes->items[i].level == LEVEL_ERROR)
            status_fail(status, STATUS_SYSTEM, "the rows of %s: %s",
                        notes->items[i].file, notes->items[i].text);
    notes_free(notes);
    return status->code;
}

static void keep(Cells *rows, const char *const *cells) {
    rows->cell = mem_grow(rows->cell, &rows->room,
                          (rows->count + 1) * rows->width, sizeof *rows->cell);
    for (size_t i = 0; i < rows->width; i++)
        rows->cell[rows->count * rows->width + i] = mem_copy(cells[i]);
    rows->count++;
}

StatusCode cells_read(FILE *from, Cells *rows, Status *status) {
    Notes notes = {0};
    Table *table = open_rows(from, &notes);
    TableRow row;
    *rows = (Cells){0};
    if (table) {
        rows->width = table_width(table);
        rows->heading = mem_new(rows->width, sizeof *rows->heading);
        for (size_t i = 0; i < rows->width; i++)
            rows->heading[i] = mem_copy(table_heading_raw(table, i));
    }
    while (table && table_next(table, &row))
        keep(rows, row.cells);
    return close_rows(table, &notes, status);
}

void cells_free(Cells *rows) {
    for (size_t i = 0; i < rows->width; i++)
        free(rows->heading[i]);
    for (size_t i = 0; i < rows->count * rows->width; i++)
        free(rows->cell[i]);
    free(rows->heading);
    free(rows->cell);
    *rows = (Cells){0};
}

const char *cells_at(const Cells *rows, size_t row, size_t column) {
    return rows->cell[row * rows->width + column];
}

int cells_column(const Cells *rows, const char *heading) {
    for (size_t i = 0; i < rows->width; i++)
        if (strcmp(rows->heading[i], heading) == 0)
            return (int)i;
    return -1;
}

/* ---- cells ---- */

bool cells_are_words(const char *heading) {
    static const char *const names[] = {
        "athlete", "event",   "option", "session",    "exercise", "test",
        "model",   "assumed", "taper",  "spec",       "block",    "group",
        "plan",    "unit",    "best",   "own_option", "alone",    "file",
        "column",  "message", "source", "version",    NULL};
    for (size_t i = 0; names[i]; i++)
        if (strcmp(heading, names[i]) == 0)
            return true;
    return false;
}

Cell cells_one(const char *heading, const char *cell) {
    Cell c = {.kind = CELL_TEXT, .text = cell};
    const char *wanted;
    char why[DATE_WHY];
    if (*cell == '\0')
        c.kind = CELL_BLANK;
    else if (cells_are_words(heading))
        c.text += cell[0] == '\'' && cell[1] && strchr("=+-@\t\r", cell[1]);
    else if (number_read(cell, (NumberStyle){false}, &c.number, &wanted))
        c.kind = CELL_NUMBER;
    else if (date_read(cell, DATES_ISO, &c.date, why))
        c.kind = CELL_DATE;
    return c;
}

/* ---- decimal commas ---- */

static void print_cell(const char *heading, const char *cell, Csv *csv) {
    Cell c = cells_one(heading, cell);
    Text number = {0};
    if (c.kind == CELL_NUMBER) {
        text_add(&number, "%s", cell);
        if (strchr(number.data, '.'))
            *strchr(number.data, '.') = ',';
        csv_figures(csv, text_of(&number));
    } else {
        csv_text(csv, c.text);
    }
    text_free(&number);
}

static void print_row(const Table *table, const char *const *cells, FILE *to) {
    Csv csv;
    csv_begin(&csv, to);
    csv.separator = ';';
    for (size_t i = 0; i < table_width(table); i++)
        print_cell(table_heading_raw(table, i),
                   cells ? cells[i] : table_heading_raw(table, i), &csv);
    csv_end(&csv);
}

StatusCode cells_print_comma(FILE *from, bool header, FILE *to,
                             Status *status) {
    Notes notes = {0};
    Table *table = open_rows(from, &notes);
    TableRow row;
    if (table && header)
        print_row(table, NULL, to);
    while (table && table_next(table, &row))
        print_row(table, row.cells, to);
    return close_rows(table, &notes, status);
}
