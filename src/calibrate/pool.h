/* pool: a squad's athletes tell of each other.
 *
 * Two levels: the centre of a squad lies about the literature's (SD a share of
 * the model file's spread), its athletes about the centre (SD what is left of
 * it, itself uncertain by a factor of e^(.25 z)). Let h be a centre and such a
 * factor, L_i(theta, k) the likelihood of athlete i's tests under member k:
 *
 *   m_ihk = integral of L_i(theta, k) p(theta | h)
 *   prior of athlete i under k: sum over h of p(theta | h) P(h) prod m_jhk,
 *                               j all others
 *   weight of member k: 4/5 of sum over h of P(h) prod m_jhk (all athletes),
 *                       scaled to 1, and 1/5 spread evenly
 *
 * The integral over h is a sum over quasi-random draws, first from the prior,
 * then from a normal about what these have found, weighted by the density from
 * which all were drawn together; the sum over h in a prior becomes the normal
 * of the same mean and covariance. Sums over athletes are of whole numbers, so
 * that no answer hangs on the order in which athletes are added.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POOL_H
#define CALIBRATE_POOL_H

#include "calibrate/shape_prior.h"

#include <stdbool.h>

typedef struct Pool Pool; /* one squad */

/* What a pool needs of an athlete: shapes, best from their own posterior, with
 * every member's ln( L(theta, member) x density of what is not pooled / density
 * of the proposal ), so that the mean over i of
 * exp(log_ratio) p(theta | h) is m_hk; any factor the members share may be left
 * out. */
typedef struct {
    size_t count;                      /* a few hundred are enough */
    const double *theta[SHAPE_POOLED]; /* [count] each */
    const double *log_ratio;           /* [member * count + i] */
} ShapeSample;

enum {
    POOL_SHAPES = 512, /* at most kept of a sample, evenly */
    POOL_MOST = 200    /* athletes of a squad who are heard */
};

#define POOL_STRANGER ((size_t)-1) /* no athlete of the pool */

/* `mean` and `spread` of the log, of the model file. To be freed. */
Pool *pool_new(const double mean[SHAPE_POOLED],
               const double spread[SHAPE_POOLED], unsigned long seed);
void pool_free(Pool *pool);

/* Is the athlete of this place (from 0) among `athletes`, in the order of their
 * names, one of those who are heard? POOL_MOST of them, evenly. */
bool pool_hears(size_t place, size_t athletes);

/* Takes in an athlete with tests; returns their number in the pool. */
size_t pool_add(Pool *pool, const ShapeSample *sample);

/* Works out what all have said; once, when all are in. */
void pool_settle(Pool *pool);

/* The prior of an athlete from all others; of one who is not in the pool
 * (POOL_STRANGER) from all. */
void pool_prior(const Pool *pool, size_t athlete, ShapePrior *prior);

#endif
