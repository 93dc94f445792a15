/* together: which sessions a squad has together.
 *
 * A session of the usual week counts as the team's if week.csv says so (team =
 * yes), or, unless it says no, if most of the squad have it on that weekday,
 * under the same name and, in the last four weeks of the log, at the same clock
 * time. Most is more than half of those who trained in these weeks: no two
 * times can both have that, and what one of them lacks changes nothing for the
 * others as long as it stays so (common practice, no source). Everybody has the
 * time that more than half of their own rows with a time show; who has the
 * session mostly at another has it alone. A log without clock times tells of
 * none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_TOGETHER_H
#define SEASON_TOGETHER_H

#include "season/season.h"

/* Does week.csv have sessions for the athlete's weekdays? */
bool together_written(const Season *season, size_t athlete);

/* Finds the sessions that each squad has together, season->team, in a log that
 * has a last day. */
void together_find(Season *season);

/* The athlete's session of their usual week with this name, if their squad has
 * it together and they have it with them; NULL: they have it alone. */
const TeamSession *together_session(const Season *season, size_t athlete,
                                    int weekday, const char *session);

#endif
