/* rules: limits as they bear on one way to an event: the largest cut of each
 * day, linear inequalities that tie days together, and the sessions that each
 * week must keep. The search, the ceiling and the words for what breaks a
 * limit all rest on these.
 *
 * A week is a block of seven days counted back from the event, u = 7 w + 1 ...
 * 7 w + 7. The first block is compared with the seven days before it, logged,
 * planned or (before the log) the steady training assumed.
 *
 * A session is gone where its day's cut passes `session_cut`: the largest cut
 * of a day, and never above 95 %, of which less than a twentieth is left. A
 * block that reaches back into the log, or to another event, need keep no more
 * sessions than it has.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_RULES_H
#define TAPER_RULES_H

#include "taper/limits.h"
#include "taper/option.h"
#include "taper/outlook.h"

/* Sum of by[u - 1] x cut[u - 1] over the days is at most `most`; scaled so that
 * the loads of the season do not matter. */
typedef struct {
    LimitName limit;
    size_t near; /* day u before the event nearest to it of the day or block */
    double most;
    const double *by; /* [length] */
} Rule;

typedef struct {
    const Outlook *outlook;
    const Limits *limits;
    size_t length; /* [d] days that may be cut, or built up */
    double *most;  /* [length] largest cut of each day, share of 1 */
    double *least; /* [length] the least: below 0 where load may be added */
    double size;   /* [load] the largest of a day, for what counts as 0 */
    Rule *rules;
    double *block; /* their coefficients */
    size_t count;
    double session_cut; /* share of 1 */
    bool counted;       /* sessions are */
    int *spare;         /* [weeks] sessions that may go from each block; below 0
                           where there are too few anyway */
    size_t weeks;
} Rules;

/* The outlook and the limits must outlive the rules. */
void rules_build(const Outlook *outlook, const Limits *limits, Rules *rules);
void rules_free(Rules *rules);

/* Sessions that go with day u when it rests. */
int rules_sessions(const Rules *rules, size_t u);

/* Do the cuts, cut[u - 1] for the day u before, keep to the inequalities and
 * the sessions? The largest cut of each day is not looked at. */
bool rules_hold(const Rules *rules, const double *cut);

/* Says what the cuts break first, like "the seven days from Sat 18 Apr keep 3
 * sessions", appended, and which limit that is. False if they break nothing. */
bool rules_broken(const Rules *rules, const double *cut, LimitName *limit,
                  Text *text);

#endif
