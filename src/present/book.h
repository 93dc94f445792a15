/* book: a workbook (.xlsx, ECMA-376) in the making: sheets of cells, packed by
 * libzip in memory. Only the few elements that a table needs; texts stand in
 * their cells, there are no formulas, links or macros. Every file of it carries
 * 1980-01-01, so that the same cells give the same bytes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_BOOK_H
#define PRESENT_BOOK_H

#include "base/date.h"
#include "base/status.h"
#include "base/text.h"

#include <stddef.h>
#include <stdio.h>
#include <time.h>

/* How a cell looks; BOOK_NUMBER + n: a number with n decimal places. */
typedef enum {
    BOOK_PLAIN,
    BOOK_HEAD,
    BOOK_TEXT, /* stays text when it is typed over */
    BOOK_DATE,
    BOOK_SHARE, /* in per cent */
    BOOK_NUMBER
} BookLook;

enum { BOOK_PLACES = 6, BOOK_NAME = 31 /* [UTF-16] of a sheet's name */ };

typedef struct {
    char *name;
    Text xml;
} BookSheet;

/* All zero: empty. */
typedef struct {
    BookSheet *sheets;
    size_t count, room;
    size_t width, row, column; /* of the last sheet, and where it is at */
} Book;

typedef struct {
    double width;  /* [characters] */
    BookLook look; /* of cells that are typed in */
} BookColumn;

/* Begins a sheet, whose first row stays in sight. The name must be one that
 * spreadsheet programs take, and no other sheet's. */
void book_sheet(Book *book, const char *name, const BookColumn *columns,
                size_t width);
/* The next cell, row by row. */
void book_blank(Book *book);
void book_text(Book *book, const char *text, BookLook look);
void book_number(Book *book, double number, BookLook look);
void book_date(Book *book, Date date);

/* After the last cell of a sheet. */
void book_sheet_end(Book *book);

/* Writes it out, with the time of its making. */
StatusCode book_write(Book *book, time_t made, FILE *to, Status *status);
void book_free(Book *book);

#endif
