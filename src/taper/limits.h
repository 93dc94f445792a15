/* limits: what a taper may do: how long, how deep, of which shapes, and what
 * each week and each day must keep. Plain values from the command line.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_LIMITS_H
#define TAPER_LIMITS_H

#include "base/text.h"

#include <stdbool.h>

/* Start from limits_default(): INFINITY, not 0, is "no limit" of a rise. */
typedef struct {
    int max_length;       /* [d] */
    double max_cut;       /* [%] of a day's volume, rest apart */
    unsigned shapes;      /* bit 1 << Shape */
    double min_week_load; /* [%] each block of seven days before the event
                             keeps at least so much of its planned load; 0:
                             no limit */
    int rest_days;        /* [d] full rest at most on the last so many days */
    int min_sessions;     /* each such block keeps at least so many sessions; 0:
                             no limit */
    double max_day_rise;  /* [load] of a day over the day before */
    double max_week_rise; /* [%] of such a block over the block before */
    int no_gym;           /* [d] before the event without gym sessions */
    unsigned cut_kinds;   /* bit 1 << SessionKind of those that may be cut; 0:
                             all */
    double build_up;      /* [%] more load than usual at most, over at most 28
                             days before the taper; 0: none */
} Limits;

typedef enum {
    LIMIT_SESSIONS,
    LIMIT_DAY_RISE,
    LIMIT_WEEK_RISE,
    LIMIT_WEEK_LOAD,
    LIMIT_NO_GYM,
    LIMIT_CUT_KINDS,
    LIMIT_SHAPES,
    LIMIT_REST_DAYS,
    LIMIT_LENGTH,
    LIMIT_CUT,
    LIMIT_BUILD_UP,
    LIMIT_NAMES
} LimitName;

enum { BUILD_UP_LONGEST = 28 /* [d] */, BUILD_UP_MOST = 30 /* [%] */ };

/* 28 d, 75 %, all shapes, full rest on 3 d, nothing else. */
Limits limits_default(void);

/* Does one limit differ from its default? */
bool limits_given(const Limits *limits, LimitName name);

/* Takes one limit away, as far as can be: 60 d, 100 %, 14 d of rest; more load
 * than usual is never offered unasked. */
void limits_lift(Limits *limits, LimitName name);

/* A limit as it is asked for, "--max-cut 75", appended. */
void limits_option(const Limits *limits, LimitName name, Text *text);

/* What it asks, "each week keeps at least 50 % of its load", appended. Nothing
 * for length, cut, shapes and rest days. */
void limits_words(const Limits *limits, LimitName name, Text *text);

/* Do two limits contradict each other whatever the season? Then both are named
 * in `why`, appended. */
bool limits_contradict(const Limits *limits, Text *why);

#endif
