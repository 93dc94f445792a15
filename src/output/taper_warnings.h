/* taper_warnings: plain sentences on what is peculiar to a search, and what was
 * searched.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TAPER_WARNINGS_H
#define OUTPUT_TAPER_WARNINGS_H

#include "answers/best_taper.h"

#include <stdio.h>

/* Prints the plain sentences on what is peculiar to this answer: a gain beyond
 * published experience, no gain at all, a single event day, and so on. */
void taper_warnings_print(const BestTaper *v, FILE *to);

/* Prints what was searched, tapers of up to `longest` days, and whether the
 * limits are the default ones. */
void taper_warnings_limits(const Case *c, size_t longest, FILE *to);

#endif
