/* normal: normal distributions for many numbers side by side, and one of a few
 * dimensions to propose shapes from.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_NORMAL_H
#define CALIBRATE_NORMAL_H

#include "calibrate/points.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    int dimensions;
    double mean[POINTS_DIMENSIONS];
    /* Cholesky factor of the covariance, lower half */
    double root[POINTS_DIMENSIONS][POINTS_DIMENSIONS];
    double inverse[POINTS_DIMENSIONS]; /* 1/root[i][i] */
    double constant;                   /* of the log density */
} Normal;

/* The normal of the weighted mean and covariance of `count` vectors, a column
 * for each dimension, its SD `widened` times theirs. False when there is none.
 */
bool normal_fit(int dimensions, size_t count, double *const *x,
                const double *weight, double widened, Normal *normal);
/* Log densities. */
void normal_density(const Normal *normal, size_t count, double *const *x,
                    double *density);
/* Points between 0 and 1 become vectors of this normal. */
void normal_draw(const Normal *normal, double u[][POINTS_AT_ONCE]);

/* Quantiles of the standard normal in place of u, 2^-36 <= u <= 1 - 2^-36. */
void normal_quantiles(size_t count, double *u);
/* Normals of mean `mu` and standard deviation `sd`, cut at 0, in place of u:
 * the share u lies above, 0 < u < 1. */
void normal_cut(size_t count, const double *mu, const double *sd, double *u);

#endif
