/* team_names: which sessions are a squad's, by name and weekday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_TEAM_NAMES_H
#define ANSWERS_TEAM_NAMES_H

#include "season/usual.h"

/* Sessions of one name that a taper may cut, a bit 1 << weekday for each day on
 * which they are had. */
typedef struct {
    const char *session; /* valid as long as the season */
    unsigned team;       /* with the team */
    unsigned told;  /* of these what clock times tell (season/together.h) */
    unsigned alone; /* not with the team */
} TeamName;

typedef struct {
    TeamName *items; /* in order of first appearance */
    size_t count, room;
} TeamNames;

void team_names_add(TeamNames *names, const PlannedSession *session,
                    int weekday);
/* Adds those of another athlete. */
void team_names_join(TeamNames *names, const TeamNames *others);
/* Is any of them the team's? */
bool team_names_any(const TeamNames *names);
/* Do clock times tell it of any? */
bool team_names_told(const TeamNames *names);

/* Is there one that is not the team's? */
bool team_names_alone(const TeamNames *names);
void team_names_free(TeamNames *names);

#endif
