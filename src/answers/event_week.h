/* event_week: one event's week of one athlete: amounts by body mass, the
 * timeline counted back from each start.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_EVENT_WEEK_H
#define ANSWERS_EVENT_WEEK_H

#include "cases/case.h"
#include "taper/eventweek.h"

/* What is known of one athlete and an event of theirs. */
typedef struct {
    const Case *c;
    const Event *event;
    bool minor;
    double mass; /* [kg] NAN: not given */
    EventAmount amounts[EVENTWEEK_AMOUNTS];
    size_t amount_count;
    EventStep steps[EVENTWEEK_STEPS];
    size_t step_count;
} EventWeek;

void event_week_build(const Case *c, const Event *event, EventWeek *sheet);

#endif
