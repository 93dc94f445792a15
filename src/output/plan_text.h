/* plan_text: the answer of `plan` as it is read: one athlete's day by day, a
 * squad's by day and session.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_TEXT_H
#define OUTPUT_PLAN_TEXT_H

#include "answers/plan.h"
#include "output/output.h"

/* `sessions`: by day and session of one athlete as well. */
void plan_text(const Plan *p, size_t count, bool sessions, Document *doc);

/* What a table of plan_days_squad() shows, from which day. */
void plan_text_lead(const Plan *p, size_t count, Document *doc);

/* The sheet that one athlete gets. */
void plan_text_sheet(const Plan *p, Document *doc);

#endif
