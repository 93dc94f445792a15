/* shape_prior: see shape_prior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/shape_prior.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_sf_erf.h>
#include <math.h>

const double member_growth[MEMBERS] = {0, .25, .5, .75, 1};

/* One row of the factor after the other. */
static void find_root(double covariance[SHAPE_POOLED][SHAPE_POOLED],
                      double root[SHAPE_POOLED][SHAPE_POOLED]) {
    for (int i = 0; i < SHAPE_POOLED; i++)
        for (int j = 0; j <= i; j++) {
            double left = covariance[i][j];
            for (int k = 0; k < j; k++)
                left -= root[i][k] * root[j][k];
            root[i][j] = i == j           ? sqrt(fmax(left, 0))
                         : root[j][j] > 0 ? left / root[j][j]
                                          : 0;
        }
}

void shape_normal_set(const double mean[SHAPE_POOLED],
                      double covariance[SHAPE_POOLED][SHAPE_POOLED],
                      ShapeNormal *n) {
    double apart = covariance[0][0] + covariance[1][1] - 2 * covariance[0][1];
    *n = (ShapeNormal){.constant = 0};
    find_root(covariance, n->root);
    for (int d = 0; d < SHAPE_POOLED; d++) {
        n->mean[d] = mean[d];
        if (n->root[d][d] > 0)
            n->constant -= log(n->root[d][d]) + (M_LNPI + M_LN2) / 2;
    }
    if (apart > 0) /* what the cut leaves of the normal */
        n->constant -= gsl_sf_log_erfc(-(mean[0] - mean[1] - SHAPE_APART) /
                                       sqrt(2 * apart)) -
                       M_LN2;
}

void shape_prior_alone(const double mean[SHAPE_POOLED],
                       const double spread[SHAPE_POOLED], ShapePrior *prior) {
    double covariance[SHAPE_POOLED][SHAPE_POOLED] = {{0}};
    for (int d = 0; d < SHAPE_POOLED; d++)
        covariance[d][d] = spread[d] > 0 ? spread[d] * spread[d] : 0;
    for (int m = 0; m < MEMBERS; m++) {
        shape_normal_set(mean, covariance, &prior->of[m]);
        prior->member[m] = 1. / MEMBERS;
    }
}

/* 1/x; 0 for 0. */
static double inverse(double x) {
    return x > 0 ? 1 / x : 0;
}

void shape_prior_log(const ShapePrior *prior, size_t count,
                     const double *const theta[SHAPE_POOLED], double *density) {
    const double *a = theta[0], *b = theta[1], *r = theta[2];
    for (size_t m = 0; m < MEMBERS; m++) {
        const ShapeNormal *n = &prior->of[m];
        double by[SHAPE_POOLED];
        for (int d = 0; d < SHAPE_POOLED; d++)
            by[d] = inverse(n->root[d][d]);
        for (size_t i = 0; i < count; i++) {
            double x = (a[i] - n->mean[0]) * by[0];
            double y = (b[i] - n->mean[1] - n->root[1][0] * x) * by[1];
            double z =
                (r[i] - n->mean[2] - n->root[2][0] * x - n->root[2][1] * y) *
                by[2];
            double log_density = n->constant - .5 * (x * x + y * y + z * z);
            density[m * count + i] =
                a[i] - b[i] > SHAPE_APART ? log_density : -INFINITY;
        }
    }
}
