/* blocks_compared: two ways through the weeks to come, under the same taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_BLOCKS_COMPARED_H
#define ANSWERS_BLOCKS_COMPARED_H

#include "answers/best_taper.h"
#include "answers/weeks_ahead.h"

/* Of the season's own weeks, and of those of the other file. */
typedef struct {
    double load;      /* [load] from today to the event, with the taper */
    double readiness; /* at the event */
    double low, high; /* 90 % range; NAN without draws */
    WeeksAhead weeks; /* before the taper */
} BlocksWay;

typedef struct {
    BestTaper taper; /* of the season's own weeks */
    Option option;   /* that asked for, else the recommended one: for both */
    BlocksWay way[2];
    double change, low, high; /* [readiness] the second over the first */
    double better; /* share of the likely models in which it is above 0 */
} BlocksCompared;

/* `other` is the season with the other blocks (season_with_blocks()). */
StatusCode blocks_compared_make(const Case *c, const Season *other,
                                BlocksCompared *b, Status *status);
void blocks_compared_free(BlocksCompared *b);

#endif
