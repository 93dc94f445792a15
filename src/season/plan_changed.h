/* plan_changed: what events.csv and week.csv say otherwise than the plan handed
 * out was made from.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_PLAN_CHANGED_H
#define SEASON_PLAN_CHANGED_H

#include "season/usual.h"

/* Warns where the plan handed out to an athlete leads to an event that has
 * another day since, or another name or none; with `past` also where all that
 * is over. Returns whether it did. */
bool plan_changed_event(const Season *season, size_t athlete, bool past,
                        Notes *notes);

/* Warns where it tells of the days before an event to come, and not of it. */
void plan_changed_unknown(const Season *season, size_t athlete,
                          const Event *event, Notes *notes);

/* Warns where the sessions of days to come, as plan.csv says that they were
 * before it cut them, are not those of week.csv: other minutes, a session that
 * week.csv has no more, or one of it that the plan never has on a weekday that
 * it tells of twice. What nobody can tell apart from --only, --missed or a plan
 * edited by hand is left out, and so are days of absences and blocks. */
void plan_changed_week(const Usual *usual, Notes *notes);

#endif
