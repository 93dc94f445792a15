/* plan_csv: a plan as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_CSV_H
#define OUTPUT_PLAN_CSV_H

#include "answers/plan.h"
#include "output/output.h"

void plan_csv_header(const Output *o);

void plan_csv_print(const Plan *p, FILE *to);

#endif
