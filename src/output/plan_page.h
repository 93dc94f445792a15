/* plan_page: what an athlete carries home, for the page: the plan week by week
 * and the event week, on a side of paper of their own.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_PAGE_H
#define OUTPUT_PLAN_PAGE_H

#include "answers/plan.h"
#include "present/page.h"

void plan_page_put(Page *page, const Plan *plan);

/* "Wed 8 Apr" that no line breaks, as a cell. */
void plan_page_day(Grid *grid, Date date);

#endif
