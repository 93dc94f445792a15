/* reckoned: windows, loads, readiness and scores of a world once more, by other
 * ways than the program's: cuts spelled out day by day, readiness summed load
 * by load.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_TAPER_RECKONED_H
#define TESTS_TAPER_RECKONED_H

#include "world.h"

#include "season/season.h"
#include "taper/option.h"
#include "taper/score.h"

double own_time(const World *w, Date date, int minute);

const Event *own_event_on(const World *w, Date date);

/* Rows of the usual week that hold on a date, in order. */
size_t own_rows(const World *w, Date date, const WeekRow **rows);

typedef struct {
    double cuttable, fixed;
} DayLoad;

DayLoad own_planned(const World *w, Date date);

size_t own_window(const World *w);

/* What a unit of load does after `age` days; of a variable-dose model its
 * fitness alone. */
double own_influence(const World *w, double age);

/* A load and when it falls. */
typedef struct {
    double time, load;
} Dose;

typedef struct {
    Dose dose[SESSIONS_MOST + DAYS_MOST];
    size_t count;
} Doses;

/* Load of a day to come under cuts, cut[u - 1] for the day u before. */
double own_load(const World *w, Date date, const double *cut);

/* Readiness at a time from doses before it, summed load by load. */
double own_sum(const World *w, Doses *d, double read);

void add_log(const World *w, Doses *d, double read);

/* Readiness on day `e` of the event. */
double own_readiness(const World *w, const double *cut, int e);

double own_score(const World *w, Aim aim, const double *cut);

/* The same by a run of the kernel over the loads as cut. */
double kernel_score(const World *w, Aim aim, const double *cut);

/* Size of the terms that make up readiness, for tolerances. */
double size_of(const World *w);

extern const double no_cut[DAYS_MOST];

/* Cuts of an option day by day, cut[u - 1], as the page on options says. */
void own_cuts(const Option *option, double *cut, size_t window);

void check_score(const World *w, const Score *score, double value,
                 const double *cut);

#endif
