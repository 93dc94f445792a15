/* recovery: readiness through an event without a taper and with what is to be
 * carried out, the recommended taper or the plan handed out, and when it is
 * back after it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_RECOVERY_H
#define ANSWERS_RECOVERY_H

#include "answers/band.h"
#include "answers/best_taper.h"

/* Both courses, and the level of normal training: readiness on the event's
 * first day with no taper. */
typedef struct {
    Band none, taper;
    double level; /* [readiness] */
} Recovery;

enum { RECOVERY_NEVER = OUTLOOK_TAIL + 1 };

void recovery_build(const BestTaper *v, Recovery *w);

void recovery_free(Recovery *w);

/* First day after the event, 1 the next, on which readiness is at the level
 * again; RECOVERY_NEVER within the days looked at. `last` is the last of them.
 */
int recovery_day(const BestTaper *v, const double *readiness, size_t stride,
                 double level, int last);

/* Days until the next event, which ends the usual week. */
int recovery_free_days(const BestTaper *v);

/* 5 % and 95 % points over the draws, each against its own level. The courses'
 * draws are ordered by size, so they are run again. */
bool recovery_range(const BestTaper *v, int last, int *low, int *high);

#endif
