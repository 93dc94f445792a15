/* marginal: how likely the readings of one kind of test are, given the shape of
 * an athlete's response; everything that is not shape is integrated out.
 *
 *     y = level + b x + trend t + e
 *
 * x is the response over its SD over the log, so that b is in the test's unit:
 * half-normal prior. The level has a flat prior, the trend [test a season of
 * 182 d] a normal one. Errors e are normal with SD sigma over the root of each
 * reading's weight, correlated in time with a correlation time of 0, 7 or 21 d,
 * equally likely (Ornstein-Uhlenbeck, so that whitening takes a step a
 * reading); readings less than half a day apart count as half a day. Of answers
 * on a scale of a few steps, what rounding adds is in the errors. sigma has
 * a log-normal prior, so that exact tests are taken as exact. Level, trend and
 * b go in closed form, sigma and the correlation time by a sum over cells.
 *
 * Errors with heavy tails (Student's t, 4 degrees of freedom) are normal ones
 * whose weights are learned (Lange, Little, Taylor 1989, J Am Stat Assoc
 * 84:881-896; from memory): marginal_reweigh().
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_MARGINAL_H
#define CALIBRATE_MARGINAL_H

#include "calibrate/basis.h"

typedef struct {
    double effect;       /* [test] of the half-normal prior of b */
    double sigma;        /* [test] median of the log-normal prior of sigma */
    double sigma_spread; /* SD of ln sigma: .7 weak, .3 with a typical error
                            given */
    double trend;        /* [test a season] SD; 0: none */
    bool correlated;     /* errors may be */
    bool heavy;          /* tails of the errors */
} PosteriorPrior;

/* Parts of a response: F(tau1), F(tau2), V(tau2, tau3). */
enum { PARTS = 3, PAIRS = 6, QUADS = 4 };
enum { SIGMAS = 8, CORRELATIONS = 3, CELLS = SIGMAS * CORRELATIONS };

typedef double Quad
    __attribute__((vector_size(QUADS * sizeof(double)), aligned(16)));

/* What the readings say of the parts of a shape, by correlation time. */
typedef struct {
    Quad xx[PAIRS]; /* 00 10 11 20 21 22, level and trend taken out */
    Quad xt[PARTS]; /* along the trend */
    Quad xy[PARTS]; /* with the readings, level and trend taken out */
} Gram;

typedef struct Marginal Marginal;

/* `data` and `prior` must outlive it. */
Marginal *marginal_new(const TestData *data, const PosteriorPrior *prior);
void marginal_free(Marginal *m);
/* Moves the cells to where sigma is: ln sigma with this mean and SD. */
void marginal_aim(Marginal *m, double mean, double sd);
/* Factors on the readings' weights; scaled to a mean of 1. */
void marginal_reweigh(Marginal *m, const double *factor);

/* `part`: each part at each reading. */
void marginal_gram(const Marginal *m, const double *const part[PARTS],
                   Gram *gram);
/* ln of the likelihood of the response that is a sum of parts times `share`;
 * likelihoods of the cells, of any common scale, into `cell` unless NULL. */
double marginal_log(const Marginal *m, const Gram *gram,
                    const double share[PARTS], double *cell);
/* The same where training moves nothing, sums over sigma by a finer grid. */
double marginal_log_none(const Marginal *m);

/* Values of everything else in one cell. */
typedef struct {
    double b, sigma, level, trend; /* level at the first reading, less it */
} Rest;

/* Numbers from which one cell's values are made, each below 1, from 0. */
enum { REST_CELL, REST_SIGMA, REST_B, REST_LEVEL, REST_TREND, REST_DICE };

/* `x`: the response at each reading less that at the first one; the others as
 * of marginal_log(). */
Rest marginal_rest(const Marginal *m, const Gram *gram,
                   const double share[PARTS], const double *x,
                   const double *cell, const double dice[REST_DICE]);
/* ln sigma of each cell: mean and mean square. */
void marginal_sigma(const Marginal *m, const double *cell, double *mean,
                    double *square);
/* [season] from the first reading to another. */
double marginal_time(const Marginal *m, size_t reading);

#endif
