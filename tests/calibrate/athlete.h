/* athlete: athletes in memory whose truth is known, and their numbers as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_CALIBRATE_ATHLETE_H
#define TESTS_CALIBRATE_ATHLETE_H

#include "base/text.h"
#include "calibrate/fit.h"
#include "calibrate/posterior.h"

#include <gsl/gsl_rng.h>

enum { STEPS_MOST = 400, TESTS_MOST = 80 };

bool quick(void);

ResponseParams params_of(ResponseKind kind, const double *value);

/* Gains of 1 and a level of 0. */
ResponseParams unit_params(ResponseKind kind, const double *taus);

/* The literature's two-component shape and spreads. */
Model literature(void);

/* The family: graded, every growth. */
Model family(void);

/* One athlete with their arrays. */
typedef struct {
    double gap[STEPS_MOST], load[STEPS_MOST];
    size_t step[TESTS_MOST];
    ReadWhen when[TESTS_MOST];
    double value[TESTS_MOST], weight[TESTS_MOST];
    TestData data;
    ResponseParams truth;
} Athlete;

void athlete_start(Athlete *a, size_t steps, size_t tests);

void random_loads(gsl_rng *rng, Athlete *a);

/* Tests spread evenly over the log, each shifted a little. */
void place_tests(gsl_rng *rng, ReadWhen when, Athlete *a);

/* Shape and gains about the published centres, with k1 = 1. */
ResponseParams random_truth(ResponseKind kind, gsl_rng *rng);

/* Readiness at every step, level included. */
void readiness_along(const ResponseParams *p, const Timeline *line,
                     ReadWhen when, double *readiness);

double sd_over_log(const ResponseParams *p, const Timeline *line);

double read_truth(const Athlete *a, size_t test);

/* An effect of `effect` and noise of `noise`, about a level of 83.7. */
void simulate_tests(gsl_rng *rng, double effect, double noise, Athlete *a);

void random_athlete(ResponseKind kind, gsl_rng *rng, size_t tests, double noise,
                    Athlete *a);

/* Weighted residual sum of any parameters, by the kernel. */
double rss_of(const ResponseParams *p, const TestData *d);

double centred_sum(const TestData *d);

void put_numbers(Text *text, const char *name, const double *value,
                 size_t count);

/* An athlete as a JSON object: loads before each day's reading or after. */
void put_athlete(Text *text, const Athlete *a);

/* The numbers a script printed; false when there are not so many. */
bool take_numbers(const char *printed, double *value, size_t count);

bool same_bits(const ResponseParams *a, const ResponseParams *b);

/* NIST StRD, Misra1a (P). */
extern const double misra_x[14];

extern const double misra_y[14];

#endif
