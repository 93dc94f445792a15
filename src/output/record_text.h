/* record_text: a plan handed out for several events, in words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_RECORD_TEXT_H
#define OUTPUT_RECORD_TEXT_H

#include "answers/best_taper.h"
#include "present/document.h"

/* "Winter cup and Trial" of an athlete's plan, if it weighs several events;
 * appended. */
void record_text_events(const Context *context, size_t athlete, Text *text);

/* What is to choose for those whose plan handed out is forecast to take more
 * than it gives (best_taper_takes()); `who` are their names, NULL where nobody
 * else is spoken of. Appended. */
void record_text_takes(const char *who, Text *text);

/* Whether it stands, and what the taper of one event alone, which follows,
 * would change; of those who have such a plan. */
void record_text(const BestTaper *tapers, size_t count, Document *doc);

#endif
