/* team_text: the sessions that a squad has together, as words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TEAM_TEXT_H
#define OUTPUT_TEAM_TEXT_H

#include "answers/best_taper.h"
#include "present/document.h"

/* The names of those of them that are the team's, of which clock times tell if
 * `told` asks for these: "Court on Tue and Thu, Gym A", appended; weekdays
 * where the same name stands for others too. */
void team_text_names(const TeamNames *names, bool told, Text *text);

/* Whose own taper gives way to the common one in sessions of the team, and
 * what that leaves of their gain. */
void team_text_taper(const BestTaper *tapers, size_t count, Document *doc);

/* The same; `groups`: under a table of groups, each with its own taper. */
void team_text_groups(const BestTaper *const *tapers, size_t count, bool groups,
                      Document *doc);

/* The latter of one athlete, appended to that of others: "What that leaves of
 * the gain of an own taper: wing-07 (+0.5 %), wing-11"; nothing of who does not
 * give way. */
void team_text_left(const BestTaper *taper, Text *who);

/* What is carried out, short: "taper 10d-50", or, where sessions of the team
 * follow the common taper, "taper 14d-50 in the team's sessions, 10d-60 in
 * their own"; appended. */
void team_text_tapers(const BestTaper *taper, Text *text);

/* Are two athletes in the same squad? */
bool team_text_same(const Case *a, const Case *b);

/* "Squad A: " where a season has several, appended. */
void team_text_squad(const Case *c, Text *text);

/* Why sessions count as the team's, for the notes. */
void team_text_notes(const TeamNames *names, Document *doc);

#endif
