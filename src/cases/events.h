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

/* Is there a day to taper in? One athlete without stops nobody else. */
bool events_leave_days(Context *d, const Case *c, bool need);

void events_leave_out(Context *d, bool need);

#endif
