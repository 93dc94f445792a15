/* taper_pictures: the map of step tapers, the sessions of the event and the
 * season.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TAPER_PICTURES_H
#define OUTPUT_TAPER_PICTURES_H

#include "answers/best_taper.h"
#include "present/plot.h"

StatusCode taper_pictures_map(const BestTaper *v, const Gallery *gallery,
                              Text *paths, Status *status);

StatusCode taper_pictures_season(const BestTaper *v, const Gallery *gallery,
                                 Text *paths, Status *status);

StatusCode taper_pictures_draw(const void *answers, size_t at,
                               const Gallery *gallery, Text *paths,
                               Status *status);

#endif
