/* sheets: a workbook (.xlsx) that a coach edits, made of the
 * rows that --csv prints: a sheet for the squad, where rows have a date and a
 * session one by session, and a sheet an athlete. Headings are those of the
 * CSV and stay in sight, dates are dates, numbers are numbers with all their
 * digits, shown with as many as mean something; texts are never formulas.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_SHEETS_H
#define PRESENT_SHEETS_H

#include "base/status.h"

#include <stdio.h>

typedef struct {
    FILE *rows;  /* CSV; read from its start */
    FILE *squad; /* the squad's sheet, CSV likewise; NULL: of the rows, those
                    tagged as recommended or without a taper, else all */
} SheetSource;

enum { SHEETS_ROWS = (1 << 20) - 1 }; /* that fit under the headings */

/* Writes the workbook whole or not at all. Its date is that of clock_now(). */
StatusCode sheets_write(const SheetSource *source, const char *path,
                        Status *status);

#endif
