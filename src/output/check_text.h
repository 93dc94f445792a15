/* check_text: what is to be mended or looked at, and the coverage, as text and
 * CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_CHECK_TEXT_H
#define OUTPUT_CHECK_TEXT_H

#include "answers/coverage.h"

#include <stdio.h>

void check_text_csv(const Context *d, const Coverage *c, size_t count,
                    FILE *to);

void check_text_print(const Context *d, const Coverage *c, size_t count,
                      FILE *to);

#endif
