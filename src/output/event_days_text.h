/* event_days_text: readiness before each session of an event, and how long it
 * takes to come back after it, as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EVENT_DAYS_TEXT_H
#define OUTPUT_EVENT_DAYS_TEXT_H

#include "answers/best_taper.h"
#include "present/document.h"

/* How readiness goes from session to session of an event with more than one,
 * and how long after it readiness is back. */
void event_days_text_add(const BestTaper *v, Document *doc);
/* What of that is assumed, for the notes; the sessions of a single day. */
void event_days_text_notes(const BestTaper *v, Document *doc);

#endif
