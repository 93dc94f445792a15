/* daily: the log of one athlete as one value a day, with what is known of each
 * day, and the same as impulses in time.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_DAILY_H
#define SEASON_DAILY_H

#include "season/season.h"

typedef enum {
    DAY_TRAINED,
    DAY_REST,       /* no row: a day without training */
    DAY_GAP,        /* inside a gap, filled by --gaps typical */
    DAY_UNRECORDED, /* a row without a load */
    DAY_ABSENT,     /* no row, and known to be off: no gap */
} DayKind;

enum { GAP_DAYS = 7 }; /* [d] as many empty days in a row are a gap */

typedef struct {
    size_t from, days; /* index of the first empty day, number of them */
} Gap;

typedef struct {
    Date first;
    size_t days;         /* first logged day of the athlete to their last */
    double *load;        /* [load] of each day; NAN on DAY_UNRECORDED */
    unsigned char *kind; /* DayKind of each day */
    Gap *gaps;
    size_t gap_count, gap_room;
    size_t trained, rest, unrecorded, filled; /* [d]; filled: gap days */
    bool timed;      /* some session has a clock time */
    size_t impulses; /* sessions and filled days, in order of time */
    double *time;    /* [d] since midnight of the first day */
    double *dose;    /* [load] */
    double *reading; /* [d] when each day is read */
} Daily;

/* Hour of sessions and readings without a clock time, when others have one. */
#define DAILY_NOON 0.5

/* Days from the athlete's first session to their last, whatever others logged.
 * With no clock times everything of a day falls at its start (whole numbers);
 * with clock times sessions fall at theirs, those without at noon, and a day is
 * read at its first session, or at noon. An athlete without sessions gives 0
 * days. */
void daily_build(const Season *season, size_t athlete, bool gaps_typical,
                 Daily *daily);
void daily_free(Daily *daily);

/* Makes the load of a logged day `load`: its sessions keep their share of it
 * and their times; a day without any gets one at noon. */
void daily_replace(Daily *daily, Date date, double load);

/* Mean daily load of the first 28 days (fewer if the log is shorter), the
 * training before the log under --before steady [load/d]. */
double daily_first_mean(const Daily *daily);

#endif
