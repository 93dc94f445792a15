/* event_week: the event week of one athlete: amounts by body mass, the timeline
 * counted back from each start.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_EVENT_WEEK_H
#define ANSWERS_EVENT_WEEK_H

#include "cases/case.h"
#include "taper/eventweek.h"

/* What is known of one athlete and their event. */
typedef struct {
    const Case *c;
    bool minor;
    double mass; /* [kg] NAN: not given */
    EventAmount amounts[EVENTWEEK_AMOUNTS];
    size_t amount_count;
    EventStep steps[EVENTWEEK_STEPS];
    size_t step_count;
} EventWeek;

/* The case has an event. */
void event_week_build(const Case *c, EventWeek *sheet);

#endif
