/* taper: what the search says of one athlete, as values, words and pictures;
 * for taper and report.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_TAPER_H
#define COMMANDS_TAPER_H

#include "commands/verdict.h"
#include "present/grid.h"
#include "present/plot.h"

/* No taper, the recommended, the best, the best of each shape, the ceiling; to
 * be freed. */
void taper_table(const Verdict *v, Grid *grid);

/* "Do this: from Thu 16 Apr, 9 days at ...", appended; nothing when no taper
 * helps. */
void taper_recommended_words(const Verdict *v, Text *text);

StatusCode taper_draw_map(const Verdict *v, const Gallery *gallery, Text *paths,
                          Status *status);
StatusCode taper_draw_season(const Verdict *v, const Gallery *gallery,
                             Text *paths, Status *status);

#endif
