/* days: how many rows each day has. Rows are many, days are few.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_DAYS_H
#define SEASON_DAYS_H

#include "base/date.h"

#include <stddef.h>

typedef struct {
    size_t *rows;     /* [rows] of each day that a date may be */
    Date first, last; /* days with rows; DATE_NONE: none */
    size_t count;     /* [rows] in all */
} Days;

/* Free with days_free(). */
void days_start(Days *days);
void days_add(Days *days, Date date);
void days_free(Days *days);

/* A few rows more than a year before or after all others: a mistyped year. */
enum { DAYS_STRAY_ROWS = 3 /* that are taken for one */ };
typedef struct {
    Date from, to;
} DaysRange;

/* Where such rows lie; returns in how many ranges. */
size_t days_stray(const Days *days, DaysRange range[2 * DAYS_STRAY_ROWS]);

#endif
