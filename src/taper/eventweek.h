/* eventweek: food, fluid, mobility and warm-up around an event, as amounts for
 * one body mass and as a timeline counted back from each session's start.
 *
 * Information, not medical advice: every amount says where it comes from, and
 * whoever shows amounts shows the cautions beside them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_EVENTWEEK_H
#define TAPER_EVENTWEEK_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    const char *what;    /* "carbohydrate" */
    const char *when;    /* "each of the two days before" */
    double low, high;    /* in `unit`; the same: one value */
    const char *unit;    /* "g/day"; for an unknown mass per kg of it */
    double factor;       /* of `unit` to `other`; NAN: no other */
    const char *other;   /* imperial: "fl oz/day", "lb" */
    const char *source;  /* with its status */
    const char *caution; /* to be read beside it; NULL: none */
} EventAmount;

enum { EVENTWEEK_AMOUNTS = 8 }; /* most */

/* Amounts for a body mass [kg], with NAN per kilogram of it, and `play`
 * [min] of play in a day, 0 when it is not known: below 90 there is no
 * loading. `several`: there is more than one session to eat between. Returns
 * how many amounts. */
size_t eventweek_amounts(double mass, int play, bool several,
                         EventAmount amounts[EVENTWEEK_AMOUNTS]);

/* One line of the timeline. */
typedef struct {
    int day;          /* [d] from the event's first day; below 0 before it */
    int minute;       /* [min after midnight] may lie outside the day; with
                         `clock` false only the order in the day */
    bool clock;       /* the hour is known */
    bool start;       /* a session's start */
    const char *what; /* in words: common practice, no source */
} EventStep;

enum { EVENTWEEK_STEPS = 256 }; /* ten sessions a day on four days fit */

typedef struct {
    int days;            /* of the event */
    int sessions;        /* a day; 0: not known */
    const int *start;    /* [min after midnight] of each session of a day;
                            NULL: not known */
    int session_minutes; /* [min] length of a session */
} EventTimes;

/* Fills steps in order of time; returns how many. */
size_t eventweek_timeline(const EventTimes *times,
                          EventStep steps[EVENTWEEK_STEPS]);

/* The cautions of the whole sheet, one after the other; ends with NULL. */
extern const char *const eventweek_cautions[];

/* Shown in place of amounts to a minor. */
extern const char *const eventweek_minor;

#endif
