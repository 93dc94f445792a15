/* posterior_calibrated: simulation-based calibration of the family.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/posterior.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* ---- simulation-based calibration ---- */

/* Talts, Betancourt, Simpson, Vehtari, Gelman 2018, arXiv 1804.06788 (M):
 * with athletes drawn from the prior, the truth's rank among the draws is
 * uniform. Here from the family's prior, with trend and correlated errors. */
enum { SBC_DRAWS = 999, SBC_QUANTITIES = 5, SBC_BINS = 10 };

static const PosteriorPrior family_prior = {3.3, .66, .7, 2.2, true, false};

typedef struct {
    double value[SBC_QUANTITIES]; /* ln tau1, ln tau2, ln ratio, k1, sigma */
    size_t member;
} Truth;

/* A readiness of the family at each step, level 0, k1 1, by the kernels of
 * two-component and variable-dose. */
static void family_readiness(const Athlete *a, const double *v, double growth,
                             double *all) {
    const Timeline *line = &a->data.timeline;
    double mean = gsl_stats_mean(a->load, 1, line->steps), f[STEPS_MOST];
    double memory = mean / -expm1(-1 / v[PARAM_TAU3]), g[STEPS_MOST];
    double value[PARAMS] = {[PARAM_K1] = 1,
                            [PARAM_TAU1] = v[PARAM_TAU1],
                            [PARAM_TAU2] = v[PARAM_TAU2],
                            [PARAM_TAU3] = v[PARAM_TAU3],
                            [PARAM_K2] = v[PARAM_RATIO] * (1 - growth),
                            [PARAM_K3] = v[PARAM_RATIO] * growth / memory};
    ResponseParams two = params_of(RESPONSE_TWO_COMPONENT, value);
    ResponseParams dose = params_of(RESPONSE_VARIABLE_DOSE, value);
    readiness_along(&two, line, READ_BEFORE, all);
    kernel_run(&dose, line, READ_BEFORE, f, g);
    for (size_t i = 0; i < line->steps; i++)
        all[i] -= g[i];
}

/* SD over those days of the log that the posterior takes. */
static double sd_of_days(const double *all, size_t steps) {
    size_t stride = steps / 64 > 0 ? steps / 64 : 1, n = 0;
    double some[STEPS_MOST], mean;
    if (stride % 7 == 0)
        stride--;
    for (size_t i = 0; i < steps; i += stride)
        some[n++] = all[i];
    mean = gsl_stats_mean(some, 1, n);
    return gsl_stats_sd_with_fixed_mean(some, 1, n, mean);
}

static void draw_readings(gsl_rng *rng, const double *all, double k1,
                          double sigma, Athlete *a) {
    static const double memory[] = {0, 7, 21};
    double at = memory[gsl_rng_uniform_int(rng, 3)], e = 0;
    double trend = gsl_ran_gaussian(rng, family_prior.trend);
    for (size_t i = 0; i < a->data.count; i++) {
        double gap = i > 0 ? (double)(a->step[i] - a->step[i - 1]) : INFINITY;
        double kept = at > 0 && i > 0 ? exp(-fmax(.5, gap) / at) : 0;
        e = kept * e + sqrt(1 - kept * kept) * gsl_ran_gaussian(rng, sigma);
        a->value[i] =
            83.7 + k1 * all[a->step[i]] + trend * (double)a->step[i] / 182 + e;
    }
}

static void sbc_athlete(gsl_rng *rng, size_t tests, Athlete *a, Truth *truth) {
    double v[PARAMS] = {0}, all[STEPS_MOST];
    athlete_start(a, 120, tests);
    random_loads(rng, a);
    a->data.timeline.before = 301.5;
    place_tests(rng, READ_BEFORE, a);
    do {
        v[PARAM_TAU1] = 39 * exp(.4 * gsl_ran_ugaussian(rng));
        v[PARAM_TAU2] = 12 * exp(.7 * gsl_ran_ugaussian(rng));
    } while (v[PARAM_TAU1] <= 1.3 * v[PARAM_TAU2]);
    v[PARAM_RATIO] = 2.1 * exp(.5 * gsl_ran_ugaussian(rng));
    v[PARAM_TAU3] = 2.3 * exp(.5 * gsl_ran_ugaussian(rng));
    truth->member = gsl_rng_uniform_int(rng, MEMBERS);
    family_readiness(a, v, member_growth[truth->member], all);
    truth->value[0] = log(v[PARAM_TAU1]);
    truth->value[1] = log(v[PARAM_TAU2]);
    truth->value[2] = log(v[PARAM_RATIO]);
    truth->value[3] =
        fabs(gsl_ran_gaussian(rng, family_prior.effect)) / sd_of_days(all, 120);
    truth->value[4] = family_prior.sigma *
                      exp(family_prior.sigma_spread * gsl_ran_ugaussian(rng));
    draw_readings(rng, all, truth->value[3], truth->value[4], a);
}

typedef struct {
    int bin[SBC_QUANTITIES][SBC_BINS];
    int covered[SBC_QUANTITIES];
    int low;                /* athletes with too few effective draws */
    double given, expected; /* weight of the true member; of any */
} Tally;

static double sbc_value(const Posterior *p, int q, size_t i) {
    const double *v = p->draws.set[i].value;
    const double value[SBC_QUANTITIES] = {
        log(v[PARAM_TAU1]), log(v[PARAM_TAU2]), log(v[PARAM_RATIO]),
        v[PARAM_K1], p->sigma[i]};
    return value[q];
}

static void tally_one(const Truth *truth, const Posterior *p, int bins,
                      Tally *tally) {
    for (int q = 0; q < SBC_QUANTITIES; q++) {
        double value[SBC_DRAWS];
        int below = 0;
        for (size_t i = 0; i < SBC_DRAWS; i++) {
            value[i] = sbc_value(p, q, i);
            below += value[i] < truth->value[q];
        }
        tally->bin[q][below * bins / (SBC_DRAWS + 1)]++;
        tally->covered[q] +=
            truth->value[q] >= draws_quantile(value, SBC_DRAWS, .05) &&
            truth->value[q] <= draws_quantile(value, SBC_DRAWS, .95);
    }
    tally->low += p->ess < POSTERIOR_LEAST;
    tally->given += p->weight[truth->member];
    for (int k = 0; k < MEMBERS; k++)
        tally->expected += p->weight[k] * p->weight[k];
}

/* Ranks uniform at p > .001. Coverage within 3.3 binomial standard deviations
 * of 90 %. The weight of the true member is on average the mean of the squared
 * weights, if weights are probabilities: within .06 of it. */
static void check_tally(const Tally *t, size_t tests, int athletes, int bins) {
    static const char *const name[] = {"tau1", "tau2", "ratio", "k1", "sigma"};
    double wide = fmax(.03, 3.3 * sqrt(.9 * .1 / athletes));
    printf("\n    %2zu tests, %d athletes:", tests, athletes);
    for (int q = 0; q < SBC_QUANTITIES; q++) {
        double wanted = (double)athletes / bins, chi = 0;
        double share = (double)t->covered[q] / athletes;
        for (int i = 0; i < bins; i++)
            chi += pow(t->bin[q][i] - wanted, 2) / wanted;
        printf(" %s %.1f %.1f%%", name[q], chi, 100 * share);
        CU_ASSERT(gsl_cdf_chisq_Q(chi, bins - 1) > .001);
        CU_ASSERT(fabs(share - .9) <= wide);
    }
    printf(", member %.3f %.3f, low %d", t->given / athletes,
           t->expected / athletes, t->low);
    CU_ASSERT(fabs(t->given - t->expected) / athletes <
              fmax(.03, .6 / sqrt(athletes)));
    CU_ASSERT(t->low <= athletes / 50);
}

static void calibration(size_t tests, int athletes, unsigned long seed) {
    gsl_rng *rng = test_random(seed);
    int bins = athletes < 100 ? 4 : SBC_BINS;
    Model model = family();
    static Athlete a;
    Tally tally = {0};
    for (int i = 0; i < athletes; i++) {
        Posterior p;
        Truth truth;
        sbc_athlete(rng, tests, &a, &truth);
        run_model(&model, &a, &family_prior, SBC_DRAWS, (unsigned long)i + 1,
                  &p);
        tally_one(&truth, &p, bins, &tally);
        posterior_free(&p);
    }
    check_tally(&tally, tests, athletes, bins);
    printf("\n    ");
    gsl_rng_free(rng);
}

/* In quick mode a few athletes only, with binomial bounds. */
static void test_posterior_calibrated_4(void) {
    calibration(4, quick() ? 30 : 600, 20702);
}

static void test_posterior_calibrated_12(void) {
    calibration(12, quick() ? 30 : 600, 20704);
}

static const TestCase cases[] = {
    {"posterior_calibrated_4", test_posterior_calibrated_4},
    {"posterior_calibrated_12", test_posterior_calibrated_12},
    {NULL, NULL}};

const TestSuite suite_calibrate_posterior_calibrated = {"calibrate", cases};
