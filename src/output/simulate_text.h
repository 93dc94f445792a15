/* simulate_text: fitness, fatigue and readiness for each day, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_SIMULATE_TEXT_H
#define OUTPUT_SIMULATE_TEXT_H

#include "answers/curves.h"
#include "output/output.h"

void simulate_text_csv_header(const Output *o);

void simulate_text_csv(const Case *c, const Curves *v, FILE *to);

void simulate_text(const Case *c, const Curves *v, Document *doc);

void simulate_text_foot(const Case *c, Document *doc);

#endif
