/* changed: in the middle of a taper: what a missed, extra, easier or harder
 * session, or a week of fewer days, does to readiness at the event, and whether
 * the plan for the days left should change.
 *
 * A missed load is never added back: the search only cuts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_CHANGED_H
#define ANSWERS_CHANGED_H

#include "answers/best_taper.h"

#include <stdbool.h>

/* Against the same athlete without --missed, --did and --only. Differences are
 * those of the mean over the draws, intervals those of the difference. */
typedef struct {
    bool handed;      /* the plan is the one handed out */
    Option plan;      /* else: recommended before the change */
    double change;    /* [readiness] with that plan carried on */
    double low, high; /* 5 % and 95 % points; NAN without draws */
    /* [readiness] at this event; of a plan handed out for several weighted sums
       over them: */
    double counted;   /* `change` */
    double gain;      /* of that plan over no taper, before */
    double replanned; /* what the plan recommended now adds to the plan carried
                         on */
    bool carry_on;    /* that is less than what cannot be told apart, or the
                         plan is the team's, which others carry on */
} Change;

StatusCode changed_find(const BestTaper *v, Change *change, Status *status);

bool changed_asked(const Question *q);

/* The same case from the files alone; the model stays, and so does what the
 * limits take out of the usual week. To be freed. */
void changed_before(const Case *c, Case *before);
void changed_before_free(Case *before);

#endif
