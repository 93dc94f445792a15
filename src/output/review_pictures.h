/* review_pictures: planned and done, forecasts and outcomes of a squad.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REVIEW_PICTURES_H
#define OUTPUT_REVIEW_PICTURES_H

#include "answers/review.h"
#include "present/plot.h"

/* A DrawAnswer of Reviews. Forecasts in several units are left out. */
StatusCode review_pictures_draw(const void *reviews, size_t at,
                                const Gallery *gallery, Text *paths,
                                Status *status);

#endif
