/* plan_text: plans as text, day by day, and the squad at a glance.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_TEXT_H
#define OUTPUT_PLAN_TEXT_H

#include "answers/plan.h"
#include "output/output.h"

#include <stdio.h>

void plan_text_one(const Plan *p, FILE *to);

/* Only of signs that stand in one of the plans. */
void plan_text_legend(const Plan *p, size_t count, FILE *to);

void plan_text_print(const Plan *p, size_t count, const Output *o);

#endif
