/* squad_text: plans for a squad, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_SQUAD_TEXT_H
#define OUTPUT_SQUAD_TEXT_H

#include "answers/squad_plans.h"
#include "output/output.h"

void squad_text_csv_header(const Output *o);

void squad_text_csv(const SquadPlans *s, FILE *to);

void squad_text(const SquadPlans *s, Document *doc);

void squad_text_foot(const BestTaper *v, bool groups, Document *doc);

#endif
