/* fit: the model that fits an athlete's tests best, by least squares: the kinds
 * of response laid on the separable solver (projection.h), columns from
 * basis.h.
 *
 * Bounds: tau2 from 1 d, tau1 from 1.1 tau2 to 200 d, tau_rise from 0.5 d to
 * tau1/1.1, tau3 from 0.5 to 60 d, gains from 0, p0 free.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_FIT_H
#define CALIBRATE_FIT_H

#include "calibrate/basis.h"

#include <stdbool.h>

typedef struct {
    ResponseParams params; /* of the tests as TestData has them */
    size_t tests;
    size_t free;  /* parameters of the kind, bounds apart, and those of
                     TestData.fitted */
    bool exists;  /* more tests than parameters: only then does
                     anything below but rss mean something */
    double rss;   /* weighted residual sum [test^2] */
    double sigma; /* residual SD [test] */
    double r2, aicc;
    double se[PARAMS]; /* NAN: at a bound, or not told apart */
    double covariance[PARAMS][PARAMS];
    double condition; /* of the scaled Jacobian */
    bool on_bound[PARAMS];
} Fit;

/* Fits a kind. Needs at least one test. */
void fit_best(ResponseKind kind, const TestData *data, Fit *fit);

/* A constant: the weighted mean alone. */
void fit_constant(const TestData *data, Fit *fit);

/* Correlation of two estimates; NAN when either has no standard error. */
double fit_correlation(const Fit *fit, Param a, Param b);

/* Extra-sum-of-squares F test of a larger model against a smaller one it
 * contains, a constant among them: probability of so much improvement by
 * chance. NAN when it cannot be told, as of tests that are all the same.
 *
 * Only approximate: where the smaller model is true a gain is 0, on its bound,
 * and the time constants of that gain mean nothing, so that the improvement
 * does not follow F with the parameters counted (Davies 1977, Biometrika
 * 64:247-254; from memory). A p near .05 decides nothing. */
double fit_f_test(const Fit *smaller, const Fit *larger);

/* Smallest weighted residual sum at given time constants (in the order of
 * basis_taus()), gains non-negative; INFINITY outside the bounds. For checks
 * against a dense grid. */
double fit_rss_at(ResponseKind kind, const double taus[SHAPE_TAUS],
                  const TestData *data);

#endif
