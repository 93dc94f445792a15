/* plan_days: a plan day by day, from the first day that is not as usual, and
 * who does what on each of a squad's days.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_DAYS_H
#define OUTPUT_PLAN_DAYS_H

#include "answers/plan.h"
#include "present/document.h"

typedef struct {
    bool load;  /* of each day and week, and what missing a session costs */
    bool paper; /* arrows and crosses as signs, dates kept on one line */
} PlanView;

/* A table, a group of rows a week. Exercises are listed where their sets
 * change, and once. */
void plan_days(const Plan *p, PlanView view, Document *doc);

/* Sessions of all plans by day, each with who does what of it. */
void plan_days_squad(const Plan *p, size_t count, PlanView view, Document *doc);

#endif
