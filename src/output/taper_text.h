/* taper_text: which taper is best for the event, and which are as good, as
 * text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TAPER_TEXT_H
#define OUTPUT_TAPER_TEXT_H

#include "answers/best_taper.h"
#include "present/grid.h"

/* No taper, the recommended, the best, the best of each shape, the ceiling; to
 * be freed. */
void taper_text_table(const BestTaper *v, Grid *grid);

/* "Do this: from Thu 16 Apr, 9 days at ...", appended; nothing when no taper
 * helps. */
void taper_text_recommended(const BestTaper *v, Text *text);

void taper_text_print(const Context *d, const BestTaper *v, size_t count,
                      FILE *to);

#endif
