/* reference: what libcsv itself makes of a text, against which a Table is
 * compared, for tests/base/table.c and tests/fuzz/table.c.
 *
 * libcsv is fed byte for byte and knows nothing of lines; which rows are passed
 * over and where they begin is told anew here, by the words of table.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef FUZZ_REFERENCE_H
#define FUZZ_REFERENCE_H

#include "base/mem.h"
#include "base/table.h"
#include "base/text.h"

#include <csv.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { REFERENCE_LONGEST = 65536 }; /* [byte] a cell */

/* A row that calls for a note: its first line and its last. */
typedef struct {
    size_t line, last;
} PassedOver;

typedef struct {
    Table *table;
    const Notes *notes; /* of the table */
    char delimiter;
    char *cells; /* of the row so far, each with its NUL */
    size_t used, room;
    size_t *length; /* of each cell */
    size_t count, count_room;
    size_t line, row_line; /* of the byte, of the row's first */
    bool in_row, header_read;
    PassedOver *passed;
    size_t passed_count, passed_room;
    size_t noted;   /* of them, those that the table has noted */
    size_t stopped; /* line from which the table cannot be read on, 0: it can */
    const char *differs;
} Reference;

static void reference_cell(void *bytes, size_t length, void *data) {
    Reference *r = data;
    r->cells = mem_grow(r->cells, &r->room, r->used + length + 1, 1);
    r->length =
        mem_grow(r->length, &r->count_room, r->count + 1, sizeof *r->length);
    if (length)
        memcpy(r->cells + r->used, bytes, length);
    r->cells[r->used + length] = '\0';
    r->used += length + 1;
    r->length[r->count++] = length;
}

static bool reference_blank(const char *cell) {
    size_t length;
    text_trim(cell, &length);
    return length == 0;
}

/* Does the row hold nothing from cell `from` on? */
static bool reference_nothing(const Reference *r, size_t from) {
    const char *cell = r->cells;
    for (size_t i = 0; i < r->count; i++) {
        if (i >= from && !reference_blank(cell))
            return false;
        cell += r->length[i] + 1;
    }
    return true;
}

static bool reference_too_long(const Reference *r) {
    for (size_t i = 0; i < r->count; i++)
        if (r->length[i] > REFERENCE_LONGEST)
            return true;
    return false;
}

static const char *reference_header(Reference *r) {
    size_t width = table_width(r->table);
    const char *cell = r->cells;
    if (reference_nothing(r, 0))
        return NULL;
    r->header_read = true;
    if (r->count < width || !reference_nothing(r, width))
        return "the number of headings";
    for (size_t i = 0; i < width; i++) {
        size_t length;
        const char *trimmed = text_trim(cell, &length);
        const char *heading = table_heading_raw(r->table, i);
        if (strlen(heading) != length || memcmp(heading, trimmed, length) != 0)
            return "a heading";
        cell += r->length[i] + 1;
    }
    return NULL;
}

static void reference_pass_over(Reference *r) {
    r->passed = mem_grow(r->passed, &r->passed_room, r->passed_count + 1,
                         sizeof *r->passed);
    r->passed[r->passed_count++] = (PassedOver){r->row_line, r->line};
}

/* Do the table's notes tell of the rows passed over, and of nothing else than,
 * last, of why it cannot be read on? */
static const char *reference_notes(Reference *r) {
    const Notes *notes = r->notes;
    for (; !r->stopped && r->noted < notes->count; r->noted++) {
        const Note *note = &notes->items[r->noted];
        if (!strstr(note->text, "this row has") &&
            !strstr(note->text, "a cell of more than"))
            r->stopped = note->line ? note->line : 1;
        else if (r->noted >= r->passed_count ||
                 r->passed[r->noted].line != note->line)
            return "the note of a row";
    }
    if (r->stopped && r->noted < notes->count)
        return "a note after the last";
    for (size_t i = r->noted - (r->stopped > 0); i < r->passed_count; i++)
        if (!r->stopped || r->passed[i].last < r->stopped)
            return "a row passed over in silence";
    return NULL;
}

/* The table has no more rows: then it must have said why, of a line that is not
 * beyond this row. */
static const char *reference_stop(Reference *r) {
    const char *differs = reference_notes(r);
    if (!differs && (!r->stopped || r->stopped > r->line))
        differs = "a row is missing";
    return differs;
}

static const char *reference_cells(const Reference *r, const TableRow *row) {
    const char *cell = r->cells;
    for (size_t i = 0; i < row->count; i++) {
        if (strlen(row->cells[i]) != r->length[i] ||
            memcmp(row->cells[i], cell, r->length[i]) != 0)
            return "a cell";
        cell += r->length[i] + 1;
    }
    return NULL;
}

static const char *reference_row(Reference *r) {
    size_t width = table_width(r->table);
    const char *differs;
    TableRow row;
    if (!reference_too_long(r) && reference_nothing(r, 0))
        return NULL;
    if (reference_too_long(r) || r->count < width ||
        !reference_nothing(r, width)) {
        reference_pass_over(r);
        return NULL;
    }
    if (!table_next(r->table, &row))
        return reference_stop(r);
    if (row.line != r->row_line)
        return "the line of a row";
    if (row.count != width)
        return "the number of cells";
    differs = reference_notes(r);
    return differs ? differs : reference_cells(r, &row);
}

static void reference_end(int terminator, void *data) {
    Reference *r = data;
    (void)terminator;
    if (!r->differs && !r->stopped)
        r->differs = r->header_read ? reference_row(r) : reference_header(r);
    r->used = r->count = 0;
    r->in_row = false;
}

/* Feeds the text; false when libcsv refuses it. */
static bool reference_feed(Reference *r, const char *bytes, size_t length) {
    struct csv_parser parser;
    bool good = true;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        mem_out();
    csv_set_delim(&parser, (unsigned char)r->delimiter);
    for (size_t i = 0; i < length && good && !r->stopped; i++) {
        char c = bytes[i];
        bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
        if (!r->in_row && (!blank || c == r->delimiter)) {
            r->in_row = true;
            r->row_line = r->line;
        }
        good = csv_parse(&parser, &c, 1, reference_cell, reference_end, r) == 1;
        r->line += c == '\n' ||
                   (c == '\r' && (i + 1 == length || bytes[i + 1] != '\n'));
    }
    good = good && (r->stopped ||
                    csv_fini(&parser, reference_cell, reference_end, r) == 0);
    csv_free(&parser);
    return good;
}

/* Reads the table to its end beside libcsv, which gets `bytes`, the first of
 * them in line `line` of the file. Tells what differs, NULL if nothing does. */
static const char *reference_compare(Table *table, const Notes *notes,
                                     char delimiter, size_t line,
                                     const char *bytes, size_t length) {
    Reference r = {
        .table = table, .notes = notes, .delimiter = delimiter, .line = line};
    bool good = reference_feed(&r, bytes, length);
    TableRow row;
    if (!r.differs && table_next(table, &row))
        r.differs = "a row too many";
    if (!r.differs)
        r.differs = reference_notes(&r);
    if (!r.differs && !good && !r.stopped)
        r.differs = "trouble that is not told";
    free(r.passed);
    free(r.cells);
    free(r.length);
    return r.differs;
}

#endif
