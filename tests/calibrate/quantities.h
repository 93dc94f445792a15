/* quantities: what is read of a posterior's draws.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_CALIBRATE_QUANTITIES_H
#define TESTS_CALIBRATE_QUANTITIES_H

#include "athlete.h"

#include "calibrate/posterior.h"

typedef double Quantity(const Posterior *posterior, size_t draw);

double tau1_of(const Posterior *p, size_t i);

double tau2_of(const Posterior *p, size_t i);

double rho_of(const Posterior *p, size_t i);

/* Of the gains at the mean load. */
double ratio_of(const Posterior *p, size_t i);

double k1_of(const Posterior *p, size_t i);

double p0_of(const Posterior *p, size_t i);

double sigma_of(const Posterior *p, size_t i);

double gain_of(const Posterior *p, size_t i);

enum { DRAWS_MOST = 4096 };

/* Values of a quantity, sorted. */
void sorted_values(const Posterior *p, Quantity *of, double *value);

double quantile_of(const Posterior *p, Quantity *of, double at);

void run_posterior(const Athlete *a, const PosteriorPrior *prior, size_t draws,
                   unsigned long seed, Posterior *out);

/* The posterior of several kinds of test of one athlete; one athlete's single
 * kind; the same of the literature's two components. */
void run_kinds(const Model *model, const TestGroup *kind, size_t kinds,
               size_t draws, unsigned long seed, Posterior *out);
void run_model(const Model *model, const Athlete *a,
               const PosteriorPrior *prior, size_t draws, unsigned long seed,
               Posterior *out);

extern const PosteriorPrior sbc_prior;

#endif
