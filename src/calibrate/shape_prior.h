/* shape_prior: what is held of one athlete's shape before their own tests.
 *
 * A shape is theta = ln tau1 [ln d], ln tau2 [ln d], ln ratio; its prior a
 * normal for each member, cut where tau1 <= 1.3 tau2 and scaled back to 1. A
 * member is one value of growth, from fatigue that adds up (0) to fatigue that
 * grows with recent load (1).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_SHAPE_PRIOR_H
#define CALIBRATE_SHAPE_PRIOR_H

#include <stddef.h>

enum { SHAPE_POOLED = 3 }; /* ln tau1, ln tau2, ln ratio */
enum { MEMBERS = 5 };

extern const double member_growth[MEMBERS]; /* 0, 1/4, 1/2, 3/4, 1 */

/* The least ln tau1 - ln tau2: components closer than that are one. */
#define SHAPE_APART 0.26236426446749106 /* ln 1.3 */

typedef struct {
    double mean[SHAPE_POOLED];
    /* Cholesky factor of the covariance, lower half: mean + root z, z standard
     * normal, is a draw before the cut */
    double root[SHAPE_POOLED][SHAPE_POOLED];
    double constant; /* ln of the density at the mean */
} ShapeNormal;

typedef struct {
    ShapeNormal of[MEMBERS];
    double member[MEMBERS]; /* what each member is to weigh in the end, sum 1:
                               its posterior is scaled to that */
} ShapePrior;

/* A normal of this mean and covariance, both of the log. A variance of 0: that
 * number is not part of the density. */
void shape_normal_set(const double mean[SHAPE_POOLED],
                      double covariance[SHAPE_POOLED][SHAPE_POOLED],
                      ShapeNormal *normal);

/* The log-normal of a model file, `mean` and `spread` of the log, for every
 * member; each weighs the same. A spread of NAN or 0: not part of it. */
void shape_prior_alone(const double mean[SHAPE_POOLED],
                       const double spread[SHAPE_POOLED], ShapePrior *prior);

/* ln p(theta | member) of every member. `theta[d]` holds `count` numbers of
 * dimension d; into density[member * count + i]. -INFINITY where
 * tau1 <= 1.3 tau2. */
void shape_prior_log(const ShapePrior *prior, size_t count,
                     const double *const theta[SHAPE_POOLED], double *density);

#endif
