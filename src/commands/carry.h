/* carry: what an athlete carries home, for the page: the plan week by week and
 * the event week, on a side of paper of their own.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_CARRY_H
#define COMMANDS_CARRY_H

#include "commands/plan.h"
#include "present/page.h"

void carry_put(Page *page, const Plan *plan);

/* "Wed 8 Apr" that no line breaks, as a cell. */
void carry_day(Grid *grid, Date date);

#endif
