/* event_sheet: the event-week sheet of one athlete, as text of 80 columns:
 * amounts by body mass, the timeline counted back from each start, cautions.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EVENT_SHEET_H
#define OUTPUT_EVENT_SHEET_H

#include "answers/event_week.h"
#include "answers/plan.h"
#include "present/document.h"

/* Said beside start times that are not in events.csv but taken. */
extern const char event_sheet_taken[];

/* "carbohydrate, during play of 1-2.5 h: 30-60 g/h. SOURCE. Caution: ..." with
 * the imperial value where there is one; for a minor whom to ask in place of
 * the amount and its source. `caution` is the word for it. Appended. */
void event_sheet_amount(const EventWeek *sheet, const EventAmount *amount,
                        const char *caution, Text *text);

/* "Fri 24 Apr  12:15", without a clock time the day alone. Appended. */
void event_sheet_time(const EventWeek *sheet, const EventStep *step,
                      Text *text);

/* A sheet for each event that is planned. */
void event_sheet(const Plan *p, Document *doc);

#endif
