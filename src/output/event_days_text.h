/* event_days_text: readiness before each session of an event, and how long it
 * takes to come back after it, as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EVENT_DAYS_TEXT_H
#define OUTPUT_EVENT_DAYS_TEXT_H

#include "answers/best_taper.h"

#include <stdio.h>

/* Prints the sessions of an event with more than one, and how long readiness
 * takes to come back after any event. */
void event_days_text_print(const BestTaper *v, FILE *to);

#endif
