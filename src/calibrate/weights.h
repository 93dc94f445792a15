/* weights: how likely many shapes make an athlete's tests, eight shapes side by
 * side.
 *
 * Given a shape and sigma, the level (flat prior) and the scale of the response
 * (half-normal prior) are integrated out in closed form (posterior.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_WEIGHTS_H
#define CALIBRATE_WEIGHTS_H

#include "calibrate/basis.h"

/* Weighted sums over the tests. Responses and values count from those of the
 * first test, which loses fewer digits to cancellation. */
typedef struct {
    double w, y, yy; /* of no shape's own */
    size_t tests;
} Known;

typedef struct {
    double z, zz, zy;
} Sums;

void known_add(const TestData *data, size_t test, Known *known);

/* Shapes with their sigma, a column for each thing. */
typedef struct {
    size_t count, room;
    double *z, *zz, *zy;           /* sums over the tests */
    double *spread;                /* SD of the response over the log */
    double *log_sigma, *precision; /* 1/sigma^2 */
    double *prior;                 /* log density */
    double *share;  /* density from which all were drawn, over the prior's */
    double *factor; /* of its likelihood */
    double *weight; /* all together 1 */
} Weights;

/* Room for `need` shapes; keeps those there are. */
void weights_room(Weights *weights, size_t need);
/* The columns from a number on, none of them set; as long as there is no need
 * for more room, and not to be freed. */
Weights weights_from(const Weights *weights, size_t from);
void weights_free(Weights *weights);
/* Sets the weights; returns the effective sample size. `effect` is the scale of
 * the prior on the scale. */
double weights_set(Weights *weights, const Known *known, double effect);
/* e^x of each of `count`; 0 below -700, and as of 700 above that. */
void weights_exp(size_t count, double *x);
/* ln x of each of `count`, from 1e-300. */
void weights_log(size_t count, double *x);
/* Weights to a power, from their logarithms; returns their sum, and that of
 * their squares. */
double weights_power(size_t count, const double *log_weight, double power,
                     double *weight, double *squares);

/* Of one shape: the scale b = k1 x spread is normal about `mu` with precision
 * `lambda`, cut at 0. */
typedef struct {
    double z, y, weights; /* weighted means, sum of weights */
    double mu, lambda;
} Inner;

Inner weights_inner(const Known *known, const Sums *sums, double spread,
                    double precision, double effect);

#endif
