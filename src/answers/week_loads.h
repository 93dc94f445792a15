/* week_loads: the load of calendar weeks.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_WEEK_LOADS_H
#define ANSWERS_WEEK_LOADS_H

#include "season/daily.h"

/* One calendar week, Monday to Sunday. */
typedef struct {
    Date monday;
    size_t days;   /* [d] of it inside the log */
    double day[7]; /* [load] NAN: outside the log or not recorded */
    double load, monotony, strain;
} WeekLoads;

/* Week number `index` of an athlete's log; false after the last. */
bool week_loads_at(const Daily *d, size_t index, WeekLoads *w);

#endif
