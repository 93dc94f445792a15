/* prescription: a taper as what a person does each day: whole sets, minutes,
 * weights as they were.
 *
 * A session's cut is shared out over its exercises by largest remainder, at
 * least one set of each unless the cut is 100 %; repetitions, kilograms and
 * rating stay, and the minutes follow the sets. Without exercises the minutes
 * are cut. Minutes go in steps of 5, and a session that goes on keeps at least
 * its `least_minutes` (15 where none are given, or all of a shorter session):
 * nobody travels for less, and the number of sessions is to stay.
 * Sessions and exercises marked `keep` stay whole, and so does mobility
 * (season/usual.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_PRESCRIPTION_H
#define TAPER_PRESCRIPTION_H

#include "taper/option.h"
#include "taper/outlook.h"

typedef struct {
    Date date;
    const char *session;
    const char *exercise;    /* NULL: the session's own row */
    int kind;                /* SessionKind */
    bool keep;               /* never cut */
    bool team;               /* cut alike for all; false on an exercise's row */
    const Event *event;      /* whose day it is; NULL: a day of training */
    double sets, usual_sets; /* NAN: not an exercise; on a session's row their
                                sums, NAN without exercises */
    double reps;             /* NAN on a session's row */
    double kg, percent;      /* [kg], [% of 1RM] NAN: not given */
    double usual_kg;         /* [kg] as given, before plates round it */
    double minutes, usual_minutes; /* [min] NAN: not known */
    bool at_least;                 /* the cut asked for left fewer minutes than
                                      the session's least: it keeps those */
    double rpe;                    /* NAN: not known */
    double cut;                    /* share of the volume cut, as rounded */
    double load, usual_load;       /* [load] NAN on an exercise's row */
} PlanRow;

enum {
    PRESCRIPTION_LEAST = 15
}; /* [min] of a session; common practice, no
      source */

typedef struct {
    PlanRow *rows; /* by date; a session's row, then its exercises */
    size_t count, room;
    double *cut; /* [window] cut of the cuttable load of each day u before
                    the event as carried out: cut[u - 1] */
} Prescription;

/* `option` gives the cuts. From the day after the log to the event's last. The
 * outlook must have an event; `usual` belongs to the same athlete. */
void prescription_build(const Outlook *outlook, const Usual *usual,
                        const Option *option, Prescription *prescription);
/* The same, but sessions of the team are cut by `common`. */
void prescription_build_team(const Outlook *outlook, const Usual *usual,
                             const Option *option, const Option *common,
                             Prescription *prescription);

/* Adds a row of which nothing but day and session is known. */
PlanRow *prescription_add(Prescription *prescription, Date date,
                          const char *session);

void prescription_free(Prescription *prescription);

/* Shares out: given[i] of each of `count` exercises with usual[i] whole sets so
 * that the sum comes as near as it can to (1 - cut) of the usual sum, by
 * largest remainder, each at least 1 unless cut is 1. Ties go to the earlier
 * exercise. */
void prescription_sets(size_t count, const double *usual, double cut,
                       double *given);

#endif
