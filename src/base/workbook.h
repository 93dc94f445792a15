/* workbook: a sheet of an .xlsx file (ECMA-376, Office Open XML) as CSV, so
 * that everything behind reads both alike.
 *
 * The archive is read by libzip, its XML by expat. A row of the sheet is a line
 * of the CSV, so line numbers in messages are the sheet's row numbers: blank
 * rows are kept, line breaks in a cell become blanks. Cells hold what the sheet
 * stores: numbers with 15 digits, dates as ISO 8601, times as HH:MM, formulas
 * as their stored values, texts without their formats.
 *
 * Refused, with advice: merged cells, formulas without a stored value, files
 * with a password, old .xls files, and anything that unpacks to more than
 * WORKBOOK_MOST bytes. Document type declarations are refused, so no entity is
 * expanded.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_WORKBOOK_H
#define BASE_WORKBOOK_H

#include "base/status.h"

#include <stdio.h>

enum {
    WORKBOOK_MOST = 256 << 20,  /* [byte] of all parts that are read */
    WORKBOOK_ROWS = 1 << 20,    /* rows a sheet can have */
    WORKBOOK_COLUMNS = 1 << 14, /* columns a sheet can have */
    WORKBOOK_CELLS = 50 << 20   /* cells, blank ones between others counted */
};

/* Does the name end like a workbook's (".xlsx", letter case apart), or like
 * that of one with a sheet ("FILE.xlsx#Sheet")? */
bool workbook_is(const char *path);

/* The file of "FILE.xlsx#Sheet", without the sheet; any other path as it is. To
 * be freed. */
char *workbook_path(const char *path);
/* The sheet's name of such a path; NULL: none. */
const char *workbook_sheet(const char *path);

/* The sheet of this name (letter case apart), or with NULL the first that is
 * not hidden, as CSV in a temporary file that is read from its start and gone
 * when it is closed. NULL with an error among the notes. */
FILE *workbook_open(const char *path, const char *sheet, Notes *notes);

#endif
