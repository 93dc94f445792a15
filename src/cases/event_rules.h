/* event_rules: what is commonly held to be too much in an event, told as
 * warnings.
 *
 * More than two matches or sessions a day, less than four hours between those
 * of a day, less than twelve hours overnight; in heat one session a day on the
 * first five days of hot-weather training, and a single day after a double one.
 * All are common practice in youth tournaments and training in heat, no source;
 * the rules of one's federation and venue come first.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_EVENT_RULES_H
#define CASES_EVENT_RULES_H

#include "season/season.h"

/* Adds the warnings about one event; `heat`: it is in hot weather. */
void event_rules_warn(const Season *season, const Event *event, bool heat,
                      Notes *notes);

#endif
