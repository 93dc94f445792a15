/* team_text: the sessions that a squad has together, as words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TEAM_TEXT_H
#define OUTPUT_TEAM_TEXT_H

#include "answers/best_taper.h"
#include "present/document.h"

/* Whose own taper gives way to the common one in sessions of the team, and
 * what that leaves of their gain. */
void team_text_taper(const BestTaper *tapers, size_t count, Document *doc);

/* Why sessions count as the team's, for the notes. */
void team_text_notes(const BestTaper *taper, Document *doc);

#endif
