/* posterior: what an athlete's tests say of their model, as equally likely
 * parameter sets.
 *
 * Which taper is best depends on the shape only: the time constants and the
 * ratio of the gains. Given the shape, the response at a test is, with k1 = 1,
 *
 *     F(tau1) [- F(tau_rise)] - ratio ((1 - g) F(tau2) + g V(tau2, tau3))
 *
 * (traces.h), which is every kind of model: ratio 0 one-component, growth g of
 * fatigue 0 two-component, 1 variable-dose. A model whose growth has a spread
 * is a family of members, g = 0, 1/4, 1/2, 3/4, 1, all tried with each shape.
 *
 * Everything but the shape is integrated out (marginal.h). The scale of the
 * response is told by its SD over the log, of which every so-manieth day is
 * taken, so that all days of the week count and there are 64 to 127 of them.
 *
 * Several kinds of test of one athlete share the shape, but each has a ratio of
 * its own, log-normal about the shared one with an SD of .25 (three points of
 * Gauss and Hermite). A kind that does not go with the others gives way: its
 * likelihood is mixed with its mean over the prior's shapes, four to one.
 *
 * The prior of the shape is shape_prior.h's, of the model file alone or of a
 * squad. Shapes are drawn by quasi-random importance sampling: from the model
 * file's prior first, then from a widened normal about the weighted mean, mixed
 * with that prior (Owen, Zhou 2000, J Am Stat Assoc 95:135-143; from memory).
 * The first rounds only look for the place, each anew from where the one before
 * has found it (Cappe et al. 2004, J Comput Graph Stat 13:907-929; from
 * memory); all others count, weighted by the density from which they were drawn
 * together (the balance heuristic: Veach, Guibas 1995, Proc SIGGRAPH 419-428;
 * from memory).
 *
 * With no tests the draws are those of the prior, scaled so that the log moves
 * readiness by what is expected, so that answers move smoothly from the
 * literature to the athlete as tests arrive.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POSTERIOR_H
#define CALIBRATE_POSTERIOR_H

#include "base/status.h"
#include "calibrate/asked.h"
#include "calibrate/draws.h"

/* The prior of a test that varies by `typical` (SD within athletes: [test],
 * above 0): effect 1.2 of it, sigma half of it, weak, or the typical error
 * given; trend one of it a season. */
PosteriorPrior posterior_prior(const TestData *data, double typical);

typedef struct {
    Draws draws;           /* in the orientation of TestData */
    double *sigma;         /* [test] of each draw */
    double ess;            /* effective sample size of all rounds */
    ResponseParams centre; /* medians of the shape, level and scale given it */
    size_t members;        /* of the family; else 1 */
    double growth[MEMBERS];
    double weight[MEMBERS];   /* of each member, sum 1 */
    double evidence[MEMBERS]; /* ln of the likelihood of all tests, but for what
                                 all members share */
    double bayes;             /* ln of the likelihood of all tests under the
                                 family over that where training moves none of
                                 them, errors taken as normal */
    double *kind_bayes;       /* [kinds] the same of each kind of test alone */
    double explained;         /* share of a test's variance that training
                                 explains: of the kind that it moves most */
} Posterior;

/* What all shapes of a trail (rounds_run()) say. */
void posterior_from(Trail *trail, size_t draws, Posterior *posterior);
/* Both: fails as rounds_run() does. */
StatusCode posterior_run(const PosteriorAsked *asked, size_t draws,
                         Posterior *posterior, Status *status);
void posterior_free(Posterior *posterior);

#endif
