/* events: the event of an athlete, and what is said where there is none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_EVENTS_H
#define CASES_EVENTS_H

#include "cases/case.h"

#include <stdbool.h>

/* An event that has begun or is a year away cannot be tapered for. */
bool events_judge(Context *d, const Event *event);

/* No athlete has the event asked for, or any to come. */
void events_refuse_none(Context *d);

/* The event asked for; of several the next one to come. */
const Event *events_find(const Context *d, size_t athlete);

/* Is there an event where one is needed? */
bool events_has(const Context *d, size_t athlete, bool need);

/* Is there a day to taper in? */
bool events_leave_days(const Context *d, const Case *c, bool need);

/* Before which events [events of the season] no day is left; a warning if there
 * are `others`, who have some, else the answer. */
void events_say_short(Context *d, const bool *short_of, bool others);

void events_leave_out(Context *d, bool need);

#endif
