/* event_sheet: the event-week sheet of one athlete, as text of 80 columns:
 * amounts by body mass, the timeline counted back from each start, cautions.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_EVENT_SHEET_H
#define COMMANDS_EVENT_SHEET_H

#include "commands/desk.h"
#include "taper/eventweek.h"

/* What is known of one athlete and her event. */
typedef struct {
    const Case *c;
    bool minor;
    double mass; /* [kg] NAN: not given */
    EventAmount amounts[EVENTWEEK_AMOUNTS];
    size_t amount_count;
    EventStep steps[EVENTWEEK_STEPS];
    size_t step_count;
} EventSheet;

/* The case has an event. */
void event_sheet_build(const Case *c, EventSheet *sheet);
void event_sheet_print(const EventSheet *sheet, FILE *to);

/* "carbohydrate, during play of 1-2.5 h: 30-60 g/h. SOURCE. Caution: ..." with
 * the imperial value where there is one; for a minor whom to ask in place of
 * the amount and its source. `caution` is the word for it. Appended. */
void event_amount_words(const EventSheet *sheet, const EventAmount *amount,
                        const char *caution, Text *text);
/* "Fri 24 Apr  12:15", without a clock time the day alone. Appended. */
void event_step_time(const EventSheet *sheet, const EventStep *step,
                     Text *text);

/* Said beside start times that are not in events.csv but taken. */
extern const char event_sheet_taken[];

#endif
