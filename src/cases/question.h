/* question: what is asked of a season, as plain values; how the answer is to be
 * shown is no part of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_QUESTION_H
#define CASES_QUESTION_H

#include "taper/limits.h"
#include "taper/score.h"

/* Training before the log. */
typedef enum { BEFORE_STEADY, BEFORE_NOTHING, BEFORE_FIT } Before;

/* A taper to look at. */
typedef struct {
    char *name, *spec; /* the same unless it was given a name */
} NamedOption;

typedef struct {
    char *season; /* folder or file */
    SeasonOptions read;
    char **athletes; /* none: everyone */
    size_t athlete_count, athlete_room;
    size_t part, parts;         /* of the athletes; 0 of 0: all */
    char *model, *event, *test; /* NULL: not given */
    char *only_test;            /* the same: it is `test` too, and used alone */
    char **events;              /* all that were named */
    size_t event_count, event_room;
    char *blocks; /* a file in the place of blocks.csv, to compare; NULL */
    char **views; /* models, searched under each */
    size_t view_count, view_room;
    NamedOption *options;
    size_t option_count, option_room;
    DayChange *changes; /* loads otherwise than in the files */
    size_t change_count, change_room;
    unsigned weekdays; /* bit 1 << weekday trained on; 0: as usual */
    Before before;
    Aim aim;
    ReadWhen when;
    Limits limits;
    double floor;     /* [%] of the training planned between events that any
                         28 days keep; 0: none */
    double plate;     /* [kg] step of weights on the bar; 0: as given */
    size_t groups;    /* common tapers of a squad at most; 0: no bound */
    bool alone;       /* --pool none: no athlete's tests tell of another */
    bool ignore_plan; /* as if no plan had been handed out */
    bool older_plans; /* the plan kept for the event asked for, where plan.csv
                         is for another one */
    bool carried;     /* days are those of the plan handed out */
    bool as_issued;   /* and as they were on the day of its issue, whatever
                         absence was entered since */
    bool individual;  /* each athlete's own taper is recommended */
    bool weekly, ahead, joint, heat, next_test;
    unsigned long seed;
    int threads;
    bool quiet; /* no progress line */
} Question;

#endif
