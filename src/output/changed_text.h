/* changed_text: what changed days do, as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_CHANGED_TEXT_H
#define OUTPUT_CHANGED_TEXT_H

#include "answers/best_taper.h"

#include <stdio.h>

/* Prints nothing when no change was asked for. */
StatusCode changed_text_print(const BestTaper *v, size_t count, FILE *to,
                              Status *status);

#endif
