/* plan_bars: the days of a plan as bars, what is usual and what is planned, as
 * a small picture that a phone shows whole.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_BARS_H
#define OUTPUT_PLAN_BARS_H

#include "answers/plan.h"

/* As SVG, appended. */
void plan_bars(const Plan *p, Text *svg);

#endif
