/* weeks_ahead: the weeks to come as they are planned, before any taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_WEEKS_AHEAD_H
#define ANSWERS_WEEKS_AHEAD_H

#include "season/usual.h"

/* Common practice, no source. */
#define WEEK_RISE_MUCH .15 /* over the heaviest of the four weeks before */
#define WEEK_LOW .5        /* of the usual week */
enum { LOW_WEEKS = 3 /* of four are a long spell */ };

/* One calendar week, Monday to Sunday. */
typedef struct {
    Date monday;
    int logged;  /* [d] of it logged already, as they were */
    double load; /* [load] */
    double rise; /* over the heaviest of the four weeks before [1], -.1: a tenth
                    less; NAN: not four whole weeks, or they are empty */
    const WeekBlock *block;
    const Event *event;     /* its first; NULL: none */
    const Absence *absence; /* its first, or the return after it */
    bool low;               /* under WEEK_LOW of the usual, not absent */
} WeekAhead;

typedef struct {
    WeekAhead *weeks;
    size_t count;
    double usual; /* [load] of a usual week */
} WeeksAhead;

/* From the week after today's day to the end of the last event, block or
 * absence to come, four weeks at least and WEEKS_AHEAD_MOST at most. */
enum { WEEKS_AHEAD_LEAST = 4, WEEKS_AHEAD_MOST = 60 };
void weeks_ahead_make(const Usual *usual, const Daily *daily,
                      WeeksAhead *ahead);
void weeks_ahead_free(WeeksAhead *ahead);

/* Is it a week that rises much? Those with an event have its load. */
bool weeks_ahead_rises(const WeekAhead *week);
/* First of four weeks of which LOW_WEEKS are low, from `from` on; `count`:
 * none. */
size_t weeks_ahead_low(const WeeksAhead *ahead, size_t from);

#endif
