/* athlete_fit: an athlete's own model from performance tests, with its
 * uncertainty and whether it predicts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_ATHLETE_FIT_H
#define ANSWERS_ATHLETE_FIT_H

#include "calibrate/fit.h"
#include "calibrate/forecast.h"
#include "cases/athlete_tests.h"
#include "cases/case.h"

#include <stdbool.h>

/* Everything `fit` finds out about one athlete. */
typedef struct {
    const Case *c;
    AthleteTests own;
    const char *test;        /* its name */
    size_t others, kinds;    /* tests of so many other kinds that `family` is
                                of, too */
    Model prior;             /* borrowed strings */
    TestGroup kind;          /* of `own` */
    Fit best, one, constant; /* the kind asked for, one component, a mean */
    Posterior posterior;
    bool graded;      /* was the model asked for graded? Then `prior` and all
                         above are of its two-component member, */
    Posterior family; /* and this is of its whole family, over the squad */
    Forecast forecast;
    /* F tests of the kind asked for, against one component and against a
     * constant; NAN: cannot be told */
    double p_fatigue, p_training;
    /* days for the next test that are worth about as much; DATE_NONE: not
       asked, or none before a taper would begin */
    Date next, next_last;
    double narrowed;   /* width of the 90 % range of a taper's gain over that
                          from the literature alone; NAN: cannot be told */
    double next_worth; /* what it adds to the gain expected of the taper then
                          chosen [test] */
} AthleteFit;

enum { LOW, MIDDLE, HIGH };

/* A number that each draw tells. */
typedef double (*Quantity)(const ResponseParams *, Param);

/* 5 %, 50 % and 95 % points of a quantity. */
void athlete_fit_points(const AthleteFit *f, Quantity of, Param param,
                        double at[3]);

double athlete_fit_t_n(const ResponseParams *p, Param param);

double athlete_fit_t_g(const ResponseParams *p, Param param);

void athlete_fit_param(const AthleteFit *f, Param param, double at[3]);

void athlete_fit_sigma(const AthleteFit *f, double at[3]);

StatusCode athlete_fit_make(Context *d, const Case *c, const Model *model,
                            AthleteFit *f, Status *status);

void athlete_fit_free(AthleteFit *f);

/* Least squares where it exists, else the posterior's median. */
double athlete_fit_estimate(const AthleteFit *f, Param param,
                            const double at[3]);

/* Has the athlete tests that can tell something? If not they are left out, with
 * a warning. */
bool athlete_fit_has_tests(Context *d, const Case *c, AthleteTests *own);

#endif
