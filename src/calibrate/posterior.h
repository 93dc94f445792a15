/* posterior: what an athlete's tests say of her model, as equally likely
 * parameter sets.
 *
 * Which taper is best depends on the shape only: the time constants and the
 * ratio of the gains. The prior is on the shape, log-normal about a model
 * file's values by its spreads, with tau1 > 1.3 tau2. Given the shape, level
 * and scale are linear: the level has a flat prior; the scale is told by the SD
 * of k1 z over the log (z: the response for k1 = 1), half-normal; the residual
 * SD sigma has an inverse-gamma prior, weak unless a typical error is given.
 * Level and scale are integrated out in closed form; shape and sigma are drawn
 * by quasi-random importance sampling: from the prior first, then twice from a
 * widened normal about the weighted mean, mixed with the prior (Owen, Zhou
 * 2000, J Am Stat Assoc 95:135-143; from memory); all rounds count, weighted by
 * the density from which all were drawn together; where few shapes carry all
 * the weight, it is evened out before the next round.
 *
 * With no tests the draws are those of the prior, so that answers move smoothly
 * from the literature to the athlete as tests arrive.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POSTERIOR_H
#define CALIBRATE_POSTERIOR_H

#include "calibrate/basis.h"
#include "calibrate/draws.h"

#include <gsl/gsl_rng.h>

typedef struct {
    double effect;      /* [test] scale of the half-normal prior on the SD of
                           k1 z over the log */
    double sigma;       /* [test] about where sigma is expected */
    double sigma_shape; /* of its inverse-gamma prior; 1 weak, 4 with a typical
                           error given */
} PosteriorPrior;

/* The prior for tests of this size: an effect of a twentieth of the level (a
 * taper is published to bring .5-6 %), sigma
 * 2 % of it, weak; or the typical error given. */
PosteriorPrior posterior_prior(const TestData *data);

typedef struct {
    Draws draws;           /* in the orientation of TestData */
    double *sigma;         /* [test] of each draw */
    double ess;            /* effective sample size of all rounds */
    ResponseParams centre; /* medians of the shape, level and scale given it */
} Posterior;

enum {
    POSTERIOR_ROUND = 2560, /* shapes a round */
    POSTERIOR_LEAST = 200   /* effective draws below which it is not to be
                               relied on */
};

/* `model` gives the kind and the prior of the shape. Fails with STATUS_DATA
 * when nearly all weight falls on nothing. */
StatusCode posterior_run(const Model *model, const TestData *data,
                         const PosteriorPrior *prior, size_t draws,
                         unsigned long seed, Posterior *posterior,
                         Status *status);
void posterior_free(Posterior *posterior);

/* Every shape that a run has tried, with its response at the tests, so that
 * posteriors of fewer or more of the tests cost no more than new weights. */
typedef struct Trail Trail;

/* The posterior and its trail, to be freed whatever is returned. `model`,
 * `data` and `prior` must outlive it. With no tests there is none: *trail stays
 * as it is. */
StatusCode posterior_run_kept(const Model *model, const TestData *data,
                              const PosteriorPrior *prior, size_t draws,
                              unsigned long seed, Posterior *posterior,
                              Trail **trail, Status *status);

/* Takes in the next test, first the first, and tries more shapes where those of
 * the trail leave too few effective draws. Returns their number. */
double trail_take(Trail *trail, gsl_rng *rng);
/* Draws from the posterior of the tests taken in: reading of the test after
 * them, without noise, and sigma [test]. Not when all are taken in. */
void trail_draw(const Trail *trail, size_t draws, gsl_rng *rng, double *reading,
                double *sigma);
void trail_free(Trail *trail);

#endif
