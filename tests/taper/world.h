/* world: random seasons in memory, with a model, for tests of tapers.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_TAPER_WORLD_H
#define TESTS_TAPER_WORLD_H

#include "season/season.h"
#include "season/usual.h"
#include "taper/option.h"
#include "taper/outlook.h"

#include <gsl/gsl_rng.h>

bool chance(gsl_rng *rng, double p);

enum {
    SESSIONS_MOST = 260,
    ROWS_MOST = 24,
    EXERCISES_MOST = 40,
    DAYS_MOST = 200
};

typedef struct {
    Season season;
    Athlete athlete;
    Session sessions[SESSIONS_MOST];
    Event events[2]; /* by start; the last is the one to peak for */
    WeekRow week[ROWS_MOST];
    char names[ROWS_MOST][12];
    Exercise exercises[EXERCISES_MOST];
    char exercise_names[EXERCISES_MOST][12];
    const Event *event;
    double before; /* [load/d] */
    ResponseParams params;
    Notes notes;
    Daily daily;
    Usual usual;
    Outlook outlook;
} World;

extern const Date world_start;

ResponseParams random_params(gsl_rng *rng);

/* Two-component most often; else delayed or variable dose. Gains such that
 * fitness and fatigue are of one size. */
ResponseParams random_kind(gsl_rng *rng);

/* Daily values, the usual week and the outlook of what stands in `w`. */
void world_open(World *w);

void world_close(World *w);

/* A world ready to use. Large, so one at a time. */
World *random_world(gsl_rng *rng);

/* One with a day to cut at least. */
World *random_window(gsl_rng *rng);

Option random_option(gsl_rng *rng, int longest);

bool same_option(const Option *a, const Option *b);

/* The same load every day, logged and planned; the event `ahead` days after
 * the log. */
void steady_world(World *w, double load, int ahead);

#endif
