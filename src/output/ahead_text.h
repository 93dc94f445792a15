/* ahead_text: the weeks to come, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_AHEAD_TEXT_H
#define OUTPUT_AHEAD_TEXT_H

#include "answers/weeks_ahead.h"
#include "output/output.h"

/* `ahead` of each chosen athlete. */
void ahead_text_present(const Context *d, const WeeksAhead *ahead,
                        const Output *output);

#endif
