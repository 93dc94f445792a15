/* table: CSV files, one row at a time, over libcsv (RFC 4180).
 *
 * Reads UTF-8 with or without a byte-order mark, and UTF-16 with one; line ends
 * LF, CRLF or CR; the delimiter `,` `;` or tab, found from the header or said
 * by a `sep=;` line. With `;` numbers may carry a decimal comma. Line numbers
 * are those of the text editor, also after quoted line breaks. Blank lines,
 * rows of blank cells and blank columns at the end are passed over.
 *
 * Memory: one row and a block of the file, however long the file is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_TABLE_H
#define BASE_TABLE_H

#include "base/number.h"
#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct Table Table;

/* Other people's headings: the column headed `theirs` is our column `ours`;
 * `ours` = "ignore" leaves it out. `used` is set when a file has it. */
typedef struct {
    char *table; /* only of this table, "sessions" say; NULL: of any */
    char *ours, *theirs;
    size_t line; /* of headings.csv, where it stands; 0: the command line */
    bool used;
} TableMap;

typedef struct {
    TableMap *items;
    size_t count, room;
    bool latin1; /* files that are not UTF-8 are Windows-1252, of which
                    Latin-1 is a part */
} TableMaps;

/* Adds `ours=theirs,ours=theirs`, or `table.ours=theirs`; a comma or backslash
 * in a heading is written `\,` or `\\`. False when the text has another form.
 */
bool table_maps_add(TableMaps *maps, const char *text);
/* Adds one. `table` may be NULL. */
void table_maps_put(TableMaps *maps, const char *table, const char *ours,
                    const char *theirs, size_t line);
void table_maps_free(TableMaps *maps);

typedef struct {
    size_t line;              /* the line on which the row begins */
    size_t count;             /* as many as table_width() */
    const char *const *cells; /* NUL-terminated, valid until the next row */
} TableRow;

/* Opens a CSV file or a sheet of an .xlsx file (see workbook.h) and reads its
 * header. `path` also names it in notes. NULL when
 * there is nothing to read; the reason is then among the notes. `maps` may be
 * NULL and must outlive the table. */
Table *table_open(const char *path, TableMaps *maps, Notes *notes);

/* The same for a stream that stays the caller's, e.g. from fmemopen(). */
Table *table_open_stream(void *stream, const char *name, TableMaps *maps,
                         Notes *notes);

/* Next row with as many cells as the header; rows of another length become
 * error notes and are passed over. False at the end or when the file cannot be
 * read on, which is then an error among the notes. */
bool table_next(Table *table, TableRow *row);

size_t table_width(const Table *table);
/* Heading of a column, after mapping, as written in the file if not mapped. */
const char *table_heading(const Table *table, size_t column);
/* Heading as written in the file. */
const char *table_heading_raw(const Table *table, size_t column);
/* Number of the column with this heading (letter case apart), or -1. */
int table_column(const Table *table, const char *heading);
NumberStyle table_style(const Table *table);
const char *table_name(const Table *table);

void table_close(Table *table);

#endif
