/* event_week: see event_week.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/event_week.h"

#include <math.h>

void event_week_build(const Case *c, const Event *event, EventWeek *s) {
    const Athlete *a = &c->context->season->athletes[c->athlete];
    int start[EVENT_SESSIONS], sessions = event_minutes(event, start);
    EventTimes times = {
        .days = event->days,
        .sessions = event->minute >= 0 ? sessions : event->sessions_per_day,
        .start = event->minute >= 0 ? start : NULL,
        .session_minutes = event_session_minutes(event)};
    *s = (EventWeek){.c = c,
                     .event = event,
                     .minor = season_minor(a, event->start),
                     .mass = season_mass_doubtful(a) ? NAN : a->mass};
    s->amount_count =
        eventweek_amounts(s->mass, event->session_minutes * times.sessions,
                          times.sessions > 1 || times.days > 1, s->amounts);
    s->step_count = eventweek_timeline(&times, s->steps);
}
