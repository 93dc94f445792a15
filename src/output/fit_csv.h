/* fit_csv: a fit as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FIT_CSV_H
#define OUTPUT_FIT_CSV_H

#include "answers/athlete_fit.h"
#include "output/output.h"

void fit_csv_print(const AthleteFit *f, FILE *to);

void fit_csv_header(const Output *o);

#endif
