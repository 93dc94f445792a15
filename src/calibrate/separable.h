/* separable: least squares where most of the model is linear.
 *
 * value(i) is fitted by level + sum over g of gain(g) column(g, i; shape): the
 * level is free, the gains are not negative, and only the few shape
 * parameters, all positive, enter the columns otherwise. Variable projection
 * (Golub, Pereyra 1973, SIAM J Numer Anal 10:413-432; from memory): level and
 * gains are solved for in closed form at each shape; a grid over the
 * logarithms of the shape finds every valley, a pattern search goes down each,
 * and Levenberg-Marquardt in all parameters ends at full precision. The
 * smallest residual sum of all is the answer, so that it is the global one.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_SEPARABLE_H
#define CALIBRATE_SEPARABLE_H

#include <stdbool.h>
#include <stddef.h>

enum {
    SEPARABLE_GAINS = 3,
    SEPARABLE_SHAPES = 3,
    /* parameters in the order of a solution: level, gains, shapes */
    SEPARABLE_SHAPE_0 = 1 + SEPARABLE_GAINS,
    SEPARABLE_MOST = SEPARABLE_SHAPE_0 + SEPARABLE_SHAPES
};

typedef struct {
    size_t rows;
    const double *value, *weight;
    bool level; /* false: no level, it stays 0 */
    int gains, shapes;
    int of[SEPARABLE_SHAPES]; /* the column that each shape parameter enters */
    double least[SEPARABLE_SHAPES], most[SEPARABLE_SHAPES];
    int below[SEPARABLE_SHAPES]; /* it stays below shape[below]/ratio; itself:
                                    no such bound */
    double ratio;
    int grid; /* points along each axis of the grid */
    /* Fills column[g][i], and with `slopes` slope[s][i], the slope of
     * column[of[s]] by ln shape[s]. */
    void (*columns)(void *context, const double *shape, bool slopes,
                    double *const *column, double *const *slope);
    void *context;
} Separable;

typedef struct {
    double value[SEPARABLE_MOST]; /* level, gains, shapes */
    double rss;                   /* weighted residual sum */
    bool on_bound[SEPARABLE_MOST];
    /* (J'J)^-1 in the parameters themselves: times sigma^2 the covariance.
     * NAN: at a bound, or not told apart. */
    double inverse[SEPARABLE_MOST][SEPARABLE_MOST];
    double condition; /* of the Jacobian, columns scaled to length 1 */
} Separated;

/* Needs at least one row. */
void separable_solve(const Separable *problem, Separated *solution);

/* Smallest weighted residual sum at a given shape; INFINITY outside the
 * bounds. */
double separable_rss_at(const Separable *problem, const double *shape);

#endif
