/* quantities: see quantities.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "quantities.h"
#include "athlete.h"
#include "test.h"

#include "calibrate/posterior.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

double tau1_of(const Posterior *p, size_t i) {
    return p->draws.set[i].value[PARAM_TAU1];
}

double tau2_of(const Posterior *p, size_t i) {
    return p->draws.set[i].value[PARAM_TAU2];
}

double rho_of(const Posterior *p, size_t i) {
    const double *v = p->draws.set[i].value;
    return v[PARAM_K2] / v[PARAM_K1];
}

double k1_of(const Posterior *p, size_t i) {
    return p->draws.set[i].value[PARAM_K1];
}

double p0_of(const Posterior *p, size_t i) {
    return p->draws.set[i].value[PARAM_P0];
}

double sigma_of(const Posterior *p, size_t i) {
    return p->sigma[i];
}

/* Readiness gained by leaving out half of 350 a day for a fortnight. */
static double gain_of_params(const ResponseParams *p) {
    double gain = 0;
    for (int age = 1; age <= 14; age++)
        gain -= .5 * 350 * kernel_influence(p, age);
    return gain;
}

double gain_of(const Posterior *p, size_t i) {
    return gain_of_params(&p->draws.set[i]);
}

void sorted_values(const Posterior *p, Quantity *of, double *value) {
    for (size_t i = 0; i < p->draws.count; i++)
        value[i] = of(p, i);
    gsl_sort(value, 1, p->draws.count);
}

double quantile_of(const Posterior *p, Quantity *of, double at) {
    double value[DRAWS_MOST];
    sorted_values(p, of, value);
    return gsl_stats_quantile_from_sorted_data(value, 1, p->draws.count, at);
}

void run_kinds(const Model *model, const TestGroup *kind, size_t kinds,
               size_t draws, unsigned long seed, Posterior *out) {
    PosteriorAsked asked = {
        .model = model, .kind = kind, .kinds = kinds, .seed = seed};
    Status status = {0};
    StatusCode code = posterior_run(&asked, draws, out, &status);
    CU_ASSERT_EQUAL_FATAL(code, STATUS_OK);
    CU_ASSERT_EQUAL(out->draws.count, draws);
}

void run_model(const Model *model, const Athlete *a,
               const PosteriorPrior *prior, size_t draws, unsigned long seed,
               Posterior *out) {
    TestGroup kind = {&a->data, *prior};
    run_kinds(model, &kind, 1, draws, seed, out);
}

void run_posterior(const Athlete *a, const PosteriorPrior *prior, size_t draws,
                   unsigned long seed, Posterior *out) {
    Model model = literature();
    run_model(&model, a, prior, draws, seed, out);
}

const PosteriorPrior sbc_prior = {3.3, .66, .7, 0, false, false};

double ratio_of(const Posterior *p, size_t i) {
    return p->draws.set[i].kind == RESPONSE_GRADED
               ? p->draws.set[i].value[PARAM_RATIO]
               : rho_of(p, i);
}
