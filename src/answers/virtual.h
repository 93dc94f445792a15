/* virtual: one virtual athlete: the way to the event, the truth, the tests.
 *
 * Training is steady before the way; the event is on the day after its last
 * week; all but the last four weeks are logged. A log of `blocks` has four-week
 * blocks of 80, 100, 120 and 60 %, weeks that differ (SD of the log .15), days
 * that differ (.25), and now and then a week of illness: our own choice, such
 * that training varies as it does in a season. Each athlete has their own log.
 *
 * Each parameter of a model file with a spread is log-normal (growth: as likely
 * anywhere in its range), drawn again while tau1 is not above 1.3 tau2, as
 * everywhere in this program (calibrate/draws.h).
 *
 * A test reads true readiness before that day's session, in its unit, with
 * noise that is normal and correlated in time (Ornstein-Uhlenbeck), and a trend
 * of the level. Outliers have three times the noise (the contaminated normal of
 * Tukey 1960; from memory). The tests are spread over the log, one in each of
 * as many equal parts, from its eighth day on.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_VIRTUAL_H
#define ANSWERS_VIRTUAL_H

#include "answers/design.h"
#include "response/kernel.h"

#include <gsl/gsl_rng.h>
#include <stddef.h>

enum {
    VIRTUAL_DAYS = 104 * 7, /* at most on a way */
    VIRTUAL_WINDOW = 28,    /* [d] planned before the event, not logged */
    VIRTUAL_TESTS = 400     /* at most */
};

/* The way to an event. */
typedef struct {
    size_t days;                   /* the event is on the day after them */
    size_t log;                    /* the first so many are logged */
    bool varied;                   /* the log is not the same each week */
    double load[VIRTUAL_DAYS + 1]; /* [load] the event's day has none */
    double mean;                   /* [load/d] of the log */
    double before;                 /* [load/d] */
} VirtualWay;

/* What is known of an athlete as the window before the event begins, or the
 * longer one that a taper takes. */
typedef struct {
    const ResponseParams *params; /* settled */
    const VirtualWay *way;
    size_t from;
    KernelState state;
    double none; /* readiness at the event without a taper */
} VirtualStand;

typedef struct {
    size_t count;
    size_t day[VIRTUAL_TESTS];
    double value[VIRTUAL_TESTS]; /* [readiness] */
} VirtualTests;

void virtual_way(const DesignValue *const at[FACTORS], gsl_rng *rng,
                 VirtualWay *way);

/* Draws parameters, not settled yet; adds to `redrawn` what was thrown away.
 * `centre`: standard normals of the athlete's squad, NULL: squads of one. False
 * after a thousand draws in vain. */
bool virtual_draw(const Model *model, const double centre[PARAMS], gsl_rng *rng,
                  ResponseParams *truth, unsigned *redrawn);

void virtual_stand(const ResponseParams *params, const VirtualWay *way,
                   size_t window, VirtualStand *stand);

/* Gain over no taper; cut[u - 1] for the day u before, `days` of them. */
double virtual_gain(const VirtualStand *stand, const double *cut, size_t days);

/* The most among 1-28 days at 15, 30, 45, 60 or 75 % less, straight falls to as
 * much, 1-3 days of rest, none. */
double virtual_attainable(const VirtualStand *stand);

/* SD of readiness in the mornings of a varied log, else of the last 28 days
 * without a taper; NAN where each day has the same load. */
double virtual_moved(const VirtualStand *stand);

/* `moved`: of this athlete. */
void virtual_tests(const DesignValue *const at[FACTORS],
                   const VirtualStand *stand, double moved, gsl_rng *rng,
                   VirtualTests *tests);

#endif
