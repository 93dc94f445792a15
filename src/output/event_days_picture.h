/* event_days_picture: the days around an event, session by session.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EVENT_DAYS_PICTURE_H
#define OUTPUT_EVENT_DAYS_PICTURE_H

#include "answers/best_taper.h"
#include "present/plot.h"

/* Draws the same: the days around the event, session by session. */
StatusCode event_days_picture_draw(const BestTaper *v, const Gallery *gallery,
                                   Text *paths, Status *status);

#endif
