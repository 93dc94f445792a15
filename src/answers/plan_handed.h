/* plan_handed: the days of the plan handed out in the place of those that would
 * be planned today.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_PLAN_HANDED_H
#define ANSWERS_PLAN_HANDED_H

#include "answers/plan.h"

/* Gives the plan of an athlete to whom one was handed out that stands
 * (best_taper_stands()) its days, as it is carried out: days off and days that
 * were said to be otherwise are so. Taper, search and what a new plan would
 * bring stay. Others are left as they are. */
void plan_handed_take(Plan *plan);

/* What plan.csv says in a row of it; its event is not looked for. */
PlanRow plan_handed_row(const HandedRow *row);

#endif
