/* joint_events: which events to come of one athlete are weighed against each
 * other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_JOINT_EVENTS_H
#define ANSWERS_JOINT_EVENTS_H

#include "cases/case.h"

/* Is an event among those that are weighed? */
bool joint_events_named(const Question *question, const char *event);

/* Are those that were named events of the season? */
StatusCode joint_events_judge_names(const Context *d, Status *status);

/* The events of one athlete, in order; `event` has room for all of the season.
 * Fails where one cannot be planned for. */
StatusCode joint_events_choose(const Case *c, const Event **event,
                               size_t *count, Status *status);

/* Fails, about a line of the file of events or with 0 about all. */
StatusCode joint_events_refuse(const Season *season, size_t line,
                               const char *what, Status *status);

#endif
