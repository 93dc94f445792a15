/* taper_csv: the options of a search as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TAPER_CSV_H
#define OUTPUT_TAPER_CSV_H

#include "answers/best_taper.h"
#include "output/output.h"

void taper_csv_header(const Output *o);

/* An option that is the best and the recommended one has two rows. */
void taper_csv_print(const BestTaper *v, FILE *to);

#endif
