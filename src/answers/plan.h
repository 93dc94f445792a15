/* plan: what one athlete does each day until the event.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_PLAN_H
#define ANSWERS_PLAN_H

#include "answers/foretold.h"
#include "taper/prescription.h"

/* One of several events that are planned together. */
typedef struct {
    const Event *event;
    Option option, common;  /* of own sessions, and of the team's */
    bool own, team;         /* which there are in its window that may be cut */
    double readiness, none; /* [readiness] with all tapers in whole sets and
                               minutes, without any; NAN: not to be told */
    double low, high;       /* 90 % range of the former as shown; NAN */
    Foretold foretold;      /* by which the plan is looked back on */
} PlanPeak;

typedef struct {
    BestTaper taper;
    PlanPeak *peaks; /* planned together; `taper` is before the last */
    size_t peak_count;
    const Event *before; /* the last one on the way, until whose end its own
                            plan holds; NULL: none */
    Date from;           /* the day after its last, or after today */
    Option option;
    bool given;  /* by --option */
    bool handed; /* `sheet` is the plan handed out (answers/plan_handed.h); all
                    else is of the one that would be made today */
    Option common; /* by which the sessions of the team are cut */
    Prescription sheet;
    double ideal, rounded; /* [readiness] */
    Foretold foretold;     /* of a plan for one event */
    double *cost; /* [rows] share of the possible gain that missing a session
                     costs; 0: none, or not to be told (the tests cannot
                     tell) */
} Plan;

/* What a week's rows add up to. */
typedef struct {
    double load, usual_load;
    double minutes, usual_minutes; /* [min] */
    double sets, usual_sets;
    double moved, usual_moved; /* [kg] sets x repetitions x kg */
} PlanTotals;

StatusCode plan_make(const Case *c, Plan *plan, Status *status);

/* The plan of one taper, of the team's sessions another, to the day on which
 * that today is; no event on the way has one of its own. */
StatusCode plan_make_whole(const Case *c, const Option *option,
                           const Option *common, Plan *plan, Status *status);

void plan_free(Plan *plan);

/* Events that are planned: one, or several together. */
size_t plan_events(const Plan *p);
const Event *plan_event(const Plan *p, size_t at);
Foretold plan_foretold(const Plan *p, size_t at);

/* Does it begin later than tomorrow, behind an event? */
bool plan_waits(const Plan *p);

/* Is less of it done than usual? */
bool plan_was_cut(const PlanRow *row);

/* Of rows from..to-1. */
PlanTotals plan_totals(const Plan *p, size_t from, size_t to);

/* Fewer sets that move as much as before are no cut. */
bool plan_not_cut(const PlanTotals *t);

/* Load that rows from..to-1 add up to. */
double plan_week_load(const Plan *plan, size_t from, size_t to);

/* Of its calendar week. */
Date plan_monday(Date date);

/* First row behind the calendar week (from Monday) of row `from`. */
size_t plan_week_end(const Plan *plan, size_t from);

/* Are there exercises? */
bool plan_lists(const Plan *plan);

/* First day of a taper of any of the plans, be it one of rest, or on which one
 * cuts, or that was told otherwise than in the files; the event where there is
 * none. */
Date plan_first_cut(const Plan *p, size_t count);

#endif
