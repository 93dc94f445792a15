/* limit_costs: what each limit costs: how much more the best taper would gain
 * with it moved or lifted.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_LIMIT_COSTS_H
#define ANSWERS_LIMIT_COSTS_H

#include "answers/best_taper.h"

/* How much more the best within other limits gains, in the model's unit. */
double limit_costs_moved(const BestTaper *v, const Limits *moved);
/* The same with one limit lifted, which may change the usual week too. */
double limit_costs_lifted(const BestTaper *v, LimitName name);

#endif
