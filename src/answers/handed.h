/* handed: the plan handed out, looked at anew: what it still brings at the
 * event, against the usual week without a taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_HANDED_H
#define ANSWERS_HANDED_H

#include "cases/case.h"

typedef struct {
    bool there;  /* is there one with days to come before the event? */
    Date issued; /* the day it was made on */
    double readiness, gain; /* [readiness] means over the draws */
    Spread spread;          /* of the readiness and its gain */
    double renewed;         /* [readiness] gain of the plan that would be made
                               today, as rounded */
    double kept;            /* share of the usual load of the days searched */
    const WeighedPlan *weighed; /* it is for several events; NULL: for one */
    bool outside;               /* does it break a limit that is asked for, or
                                   lead to another event or day? */
} Handed;

/* `draws` and `score` are of the case's usual week without a taper. */
void handed_find(const Case *c, const DrawScores *draws, const Score *score,
                 Handed *handed);

/* Its gain under each of the draws; false when there is none. */
bool handed_gains(const Case *c, const DrawScores *draws, double *gain);

/* "it leaves 40 % of a week's load, which breaks --min-week-load 90", or that
 * it leads elsewhere, appended; nothing where it is not outside. */
void handed_words_outside(const Case *c, Text *text);

/* The case with the days of the plan handed out in the place of its usual week;
 * false when there is none. To be freed. */
bool handed_case(const Case *c, Case *handed);
void handed_case_free(Case *handed);

/* The first day that the plan cuts after an event before the case's own and
 * after today; the event's where it cuts none. */
Date handed_first_cut(const Case *c);

#endif
