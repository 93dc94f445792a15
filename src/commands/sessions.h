/* sessions: an event from near: readiness before each of its sessions with and
 * without the recommended taper, and when readiness is back after it; for
 * taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_SESSIONS_H
#define COMMANDS_SESSIONS_H

#include "commands/output.h"
#include "commands/verdict.h"

/* Prints the sessions of an event with more than one, and how long readiness
 * takes to come back after any event. */
void sessions_print(const Verdict *v, FILE *to);

/* Draws the same: the days around the event, session by session. */
StatusCode sessions_draw(const Verdict *v, const Gallery *gallery, Text *paths,
                         Status *status);

#endif
