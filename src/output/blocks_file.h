/* blocks_file: a blocks.csv to edit: so many weeks that build, so many lighter
 * ones, and again.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_BLOCKS_FILE_H
#define OUTPUT_BLOCKS_FILE_H

#include "base/date.h"

#include <stdio.h>

/* A lighter week's share of the usual one [%]: common practice, no source. */
enum { DELOAD_VOLUME = 60 };

typedef struct {
    int build, deload; /* weeks of each; build 0: no blocks */
    int weeks;         /* in all */
    double rise;       /* [%] from one build week to the next */
    Date monday;       /* the first */
} BlockPlan;

/* The first Monday after a day. */
Date blocks_file_monday(Date today);
/* `plan` is a BlockPlan. The n-th build begins n - 1 rises above the usual
 * week, so that each ends higher than the one before. */
void blocks_file_write(const void *plan, FILE *to);
/* Volume of the last week of the highest build [%]. */
double blocks_file_highest(const BlockPlan *plan);

#endif
