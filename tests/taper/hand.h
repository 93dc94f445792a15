/* hand: small seasons, read from files, whose numbers are checked by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_TAPER_HAND_H
#define TESTS_TAPER_HAND_H

#include "season/season.h"
#include "season/usual.h"
#include "taper/outlook.h"

typedef struct {
    Notes notes;
    Season *season;
    Daily daily;
    Usual usual;
    Outlook outlook;
} Hand;

/* Reads the test's folder; `event` NULL is the next one. */
void hand_open(Hand *h, const char *folder, const char *event, Date today);

/* The athlete's, on the way to the next event, used to their first days. */
void hand_open_athlete(Hand *h, const char *folder, const char *athlete);

void hand_close(Hand *h);

Date day_of(int year, int month, int day);

/* Monday 2 to Sunday 8 March 2026. */
extern const char plain_log[];

extern const char plain_week[];

#endif
