/* plan_kept: the plans handed out before the one in force, which the season
 * keeps as plan-DATE.csv.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_PLAN_KEPT_H
#define SEASON_PLAN_KEPT_H

#include "season/season.h"

/* Gives athletes whose plan.csv does not lead to an event, by its name, the
 * latest kept plan that does (HandedRow.file), if there is one; each day of it
 * is as the latest plan says that was handed out before it. A kept plan that
 * cannot be read is left out with a warning. */
void plan_kept_take(Season *season, const char *event,
                    const SeasonOptions *options, Notes *notes);

#endif
