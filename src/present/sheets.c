/* sheets: see sheets.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/sheets.h"

#include "base/clock.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "base/text.h"
#include "present/book.h"
#include "present/cells.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unicase.h>

enum {
    NUMBER_MOST = 6, /* of a sheet's name, to tell sheets of one name apart */
    WIDTH_LEAST = 7,
    WIDTH_MOST = 40, /* [characters] */
    BUTTON = 2       /* [characters] that a filter's button takes */
};

/* Which rows and columns of a table make a sheet. */
typedef struct {
    const Cells *rows;
    size_t *row, count;
    size_t *column, width;
} Part;

/* ---- looks ---- */

static bool is_share(const char *heading) {
    static const char *const names[] = {"share", "kept", "beats_none",
                                        "cost_if_missed", NULL};
    for (size_t i = 0; names[i]; i++)
        if (strcmp(heading, names[i]) == 0)
            return true;
    return false;
}

static Cell cell_at(const Part *p, size_t row, size_t column) {
    return cells_one(p->rows->heading[p->column[column]],
                     cells_at(p->rows, p->row[row], p->column[column]));
}

/* Decimal places that show a column's numbers whole, but no more than three
 * significant digits of the largest need. */
typedef struct {
    double most;
    int needed;
} Places;

static void look_closer(Places *p, double number) {
    double scaled = fabs(number) * pow(10, p->needed);
    p->most = fmax(p->most, fabs(number));
    for (; p->needed < BOOK_PLACES && fabs(scaled - round(scaled)) > 1e-6;
         p->needed++)
        scaled *= 10;
}

static int places_of(const Places *p) {
    int enough = p->most > 0 ? 2 - (int)floor(log10(p->most)) : 0;
    enough = enough < 0 ? 0 : enough;
    return enough < p->needed ? enough : p->needed;
}

/* The look of its numbers, and how wide it must be. */
static BookColumn look_at(const Part *p, size_t column) {
    const char *heading = p->rows->heading[p->column[column]];
    size_t width = utf8_width(heading);
    Places places = {0};
    for (size_t i = 0; i < p->count; i++) {
        Cell c = cell_at(p, i, column);
        size_t need = c.kind == CELL_TEXT ? utf8_width(c.text) : WIDTH_LEAST;
        if (c.kind == CELL_DATE)
            need = strlen("2026-03-29");
        if (c.kind == CELL_NUMBER)
            look_closer(&places, c.number);
        width = need > width ? need : width;
    }
    width = width < WIDTH_MOST ? width : WIDTH_MOST;
    return (BookColumn){(double)(width + BUTTON),
                        cells_are_words(heading) ? BOOK_TEXT
                        : is_share(heading)
                            ? BOOK_SHARE
                            : (BookLook)(BOOK_NUMBER + places_of(&places))};
}

/* ---- sheets ---- */

static bool same_name(const char *a, const char *b) {
    int differ = 1;
    if (u8_casecmp((const uint8_t *)a, strlen(a), (const uint8_t *)b, strlen(b),
                   NULL, NULL, &differ) != 0)
        mem_out();
    return differ == 0;
}

static bool taken(const Book *b, const char *name) {
    for (size_t i = 0; i < b->count; i++)
        if (same_name(b->sheets[i].name, name))
            return true;
    return false;
}

/* A sheet's name has at most 31 units of UTF-16, none of []:*?/\ and no
 * apostrophe at its ends, and no other sheet has it. */
static char *make_name(const Book *b, const char *wanted) {
    Text base = {0}, name = {0};
    size_t units = 0;
    for (const char *c = wanted; *c; c++) {
        unsigned char byte = (unsigned char)*c;
        units += (byte & 0xC0) == 0x80 ? 0 : byte >= 0xF0 ? 2 : 1;
        if (units > BOOK_NAME - NUMBER_MOST)
            break;
        text_put(&base, strchr("[]:*?/\\'\n\r\t", *c) ? "_" : c, 1);
    }
    text_add(&name, "%s",
             text_blank(text_of(&base)) || same_name(text_of(&base), "history")
                 ? "sheet"
                 : text_of(&base));
    for (size_t n = 2; taken(b, text_of(&name)); n++) {
        text_clear(&name);
        text_add(&name, "%s~%zu", text_of(&base), n);
    }
    text_free(&base);
    return name.data;
}

static void put_cell(Book *b, const Cell *c, BookLook look) {
    if (c->kind == CELL_TEXT)
        book_text(b, c->text, BOOK_TEXT);
    else if (c->kind == CELL_NUMBER)
        book_number(b, c->number, look);
    else if (c->kind == CELL_DATE)
        book_date(b, c->date);
    else
        book_blank(b);
}

static void add_sheet(Book *b, const char *wanted, const Part *p) {
    BookColumn *columns = mem_new(p->width, sizeof *columns);
    char *name = make_name(b, wanted);
    for (size_t i = 0; i < p->width; i++)
        columns[i] = look_at(p, i);
    book_sheet(b, name, columns, p->width);
    for (size_t i = 0; i < p->width; i++)
        book_text(b, p->rows->heading[p->column[i]], BOOK_HEAD);
    for (size_t row = 0; row < p->count; row++)
        for (size_t i = 0; i < p->width; i++) {
            Cell c = cell_at(p, row, i);
            put_cell(b, &c, columns[i].look);
        }
    book_sheet_end(b);
    free(columns);
    free(name);
}

/* ---- which rows ---- */

static Part part_begin(const Cells *rows) {
    Part p = {.rows = rows, .width = rows->width};
    p.row = mem_new(rows->count, sizeof *p.row);
    p.column = mem_new(rows->width, sizeof *p.column);
    for (size_t i = 0; i < rows->width; i++)
        p.column[i] = i;
    return p;
}

static void part_end(Part *p) {
    free(p->row);
    free(p->column);
}

static void add_squad(Book *b, const Cells *rows) {
    int tag = cells_column(rows, "tag");
    Part p = part_begin(rows);
    for (size_t i = 0; i < rows->count; i++)
        if (tag < 0 ||
            strcmp(cells_at(rows, i, (size_t)tag), "recommended") == 0 ||
            strcmp(cells_at(rows, i, (size_t)tag), "none") == 0)
            p.row[p.count++] = i;
    add_sheet(b, "Squad", &p);
    part_end(&p);
}

typedef struct {
    const char *date, *session, *athlete;
    size_t row;
} Key;

static int by_session(const void *one, const void *other) {
    const Key *a = one, *b = other;
    int order = strcmp(a->date, b->date);
    if (order == 0)
        order = strcmp(a->session, b->session);
    return order ? order : a->row < b->row ? -1 : 1;
}

/* All rows in the order of dates and sessions, their first column, the
 * athlete, behind these. */
static void add_sessions(Book *b, const Cells *rows, size_t date,
                         size_t session) {
    Part p = part_begin(rows);
    Key *keys = mem_new(rows->count, sizeof *keys);
    for (size_t i = 0; i < rows->count; i++)
        keys[i] = (Key){.date = cells_at(rows, i, date),
                        .session = cells_at(rows, i, session),
                        .row = i};
    if (rows->count)
        qsort(keys, rows->count, sizeof *keys, by_session);
    for (size_t i = 0; i < rows->count; i++)
        p.row[p.count++] = keys[i].row;
    for (size_t i = 0; i < session; i++) {
        p.column[i] = p.column[i + 1];
        p.column[i + 1] = 0;
    }
    add_sheet(b, "By session", &p);
    free(keys);
    part_end(&p);
}

static void add_athletes(Book *b, const Cells *rows, size_t athlete) {
    Part p = part_begin(rows);
    for (size_t i = 0; i < rows->count;) {
        const char *name = cells_at(rows, i, athlete);
        for (p.count = 0;
             i < rows->count && strcmp(cells_at(rows, i, athlete), name) == 0;
             i++)
            p.row[p.count++] = i;
        add_sheet(b, cells_one("athlete", name).text, &p);
    }
    part_end(&p);
}

static void add_all(Book *b, const Cells *squad, const Cells *rows) {
    int athlete = cells_column(rows, "athlete");
    int date = cells_column(rows, "date");
    int session = cells_column(rows, "session");
    add_squad(b, squad->width ? squad : rows);
    if (date >= 0 && session >= 0)
        add_sessions(b, rows, (size_t)date, (size_t)session);
    if (athlete >= 0)
        add_athletes(b, rows, (size_t)athlete);
}

/* ---- the file ---- */

static void write_file(Book *b, const char *path, Status *status) {
    time_t made;
    OutFile *file;
    if (clock_now(&made, status) != STATUS_OK)
        return;
    file = outfile_open(path, status);
    if (file && book_write(b, made, outfile_stream(file), status) == STATUS_OK)
        outfile_commit(file, status);
    else
        outfile_abandon(file);
}

StatusCode sheets_write(const SheetSource *source, const char *path,
                        Status *status) {
    Book b = {0};
    Cells rows = {0}, squad = {0};
    StatusCode code = cells_read(source->rows, &rows, status);
    if (code == STATUS_OK && source->squad)
        code = cells_read(source->squad, &squad, status);
    if (code == STATUS_OK && rows.count > SHEETS_ROWS)
        code = status_fail(status, STATUS_DATA,
                           "%zu rows are more than a sheet holds (%d), "
                           "expected fewer athletes, or --csv",
                           rows.count, SHEETS_ROWS);
    if (code == STATUS_OK) {
        add_all(&b, &squad, &rows);
        write_file(&b, path, status);
    }
    book_free(&b);
    cells_free(&rows);
    cells_free(&squad);
    return status->code;
}
