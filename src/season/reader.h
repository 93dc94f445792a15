/* reader: typed cells of a season's file, with a note for each one that cannot
 * be read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_READER_H
#define SEASON_READER_H

#include "base/date.h"
#include "base/status.h"
#include "base/table.h"
#include "base/text.h"

#include <stdbool.h>

enum { READER_COLUMNS = 32 };

/* A column that a file may have. */
typedef struct {
    const char *name;
    bool required;
} Column;

typedef struct {
    Table *table;
    Notes *notes;
    DateOrder dates;
    const Column *columns;
    int at[READER_COLUMNS]; /* place in the file, -1: not there */
    NumberStyle style;
    TableRow row;
    Text scratch;
    bool leave_out;      /* rows that cannot be read are left out */
    size_t left, latest; /* of them so far, and the line of the last */
    size_t *missing;     /* of each column of the file the cells that say that a
                            number was not recorded; NULL: none yet */
} Reader;

/* How files of a season are read. */
typedef struct {
    DateOrder dates;
    TableMaps *maps;
    bool leave_out; /* rows that cannot be read are left out, not refused */
} ReadOptions;

/* Opens a file and finds its columns; `columns` ends with a NULL name. Notes
 * say which required columns are missing and which of the file are not used.
 * False when the file cannot be used. */
bool reader_open(Reader *reader, const char *path, const Column *columns,
                 const ReadOptions *options, Notes *notes);
/* The same without the say on columns, for files that may be wide tables. */
bool reader_open_any(Reader *reader, const char *path, const Column *columns,
                     const ReadOptions *options, Notes *notes);
/* Notes missing and unused columns. False when a required one is missing. */
bool reader_judge_columns(Reader *reader);
/* An error: a column is not there that is needed for a reason, ", since ...".
 */
void reader_refuse_absent(Reader *reader, int column, const char *reason);
bool reader_next(Reader *reader);
void reader_close(Reader *reader);

/* Does the file have the column? */
static inline bool reader_has(const Reader *reader, int column) {
    return reader->at[column] >= 0;
}

/* The cell as it stands in the row, "" without the column. */
static inline const char *reader_raw(const Reader *reader, int column) {
    int at = reader->at[column];
    return at < 0 ? "" : reader->row.cells[at];
}

/* True also when the file does not have the column. */
static inline bool reader_blank(const Reader *reader, int column) {
    return text_blank(reader_raw(reader, column));
}

/* The cell without blanks at its ends; valid until the next call. */
const char *reader_cell(Reader *reader, int column);

/* An error at the current row; a warning where such rows are left out. */
void reader_error(Reader *reader, int column, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void reader_warning(Reader *reader, int column, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Each of these returns false after noting what is wrong. A blank cell leaves
 * the value as it was and is fine; so does NA, N/A, #N/A or - in the place of a
 * number that is not required, which are counted and told in one notice a
 * column. */
bool reader_number(Reader *reader, int column, double low, double high,
                   double *value);
bool reader_whole(Reader *reader, int column, int low, int high, int *value);
bool reader_date(Reader *reader, int column, Date *value);
bool reader_time(Reader *reader, int column, int *minute);
bool reader_yes(Reader *reader, int column, bool *value);
/* `words` ends with NULL; the value is the index of the word. */
bool reader_word(Reader *reader, int column, const char *const *words,
                 int *value);
/* Text without control characters other than line breaks and tabs; blank is an
 * error. The result is valid until the next call. */
bool reader_text(Reader *reader, int column, const char **value);

/* False after noting that a heading holds control characters. */
bool reader_plain_heading(Reader *reader, size_t place);

/* The same cell checks for a cell outside the known columns. */
bool reader_number_at(Reader *reader, size_t place, double low, double high,
                      double *value);

#endif
