/* together: which sessions a squad has together.
 *
 * A session of the usual week counts as the team's if week.csv says so (team =
 * yes), or, unless it says no, if everybody of the squad has it on the same
 * weekday, under the same name and, in the last four weeks of the log, always
 * at the same clock time. A log without clock times tells of none. Whoever did
 * not train in these weeks is not asked.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_TOGETHER_H
#define SEASON_TOGETHER_H

#include "season/season.h"

/* Does week.csv have sessions for the athlete's weekdays? */
bool together_written(const Season *season, size_t athlete);

/* Does the athlete's squad have such a session of theirs at one time? */
bool together_session(const Season *season, size_t athlete, int weekday,
                      const char *session);

/* How long it is [min]: the median of what the squad logged of it in these
 * weeks; NAN: nothing. */
double together_minutes(const Season *season, size_t athlete, int weekday,
                        const char *session);

#endif
