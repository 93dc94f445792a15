/* fit_text: a fit as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FIT_TEXT_H
#define OUTPUT_FIT_TEXT_H

#include "answers/athlete_fit.h"
#include "output/output.h"

#include <stdio.h>

void fit_text_print(const AthleteFit *f, FILE *to);

void fit_text_foot(const Case *first, const Output *o);

#endif
