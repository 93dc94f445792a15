/* fit: MGH17 and Misra1a run as seasons, and what a fit says of itself.
 *
 * Certified figures are of NIST's Statistical Reference Datasets (P, public
 * domain).
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "grids.h"
#include "test.h"

#include "calibrate/fit.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- NIST's certified fits ---- */

/* NIST StRD, MGH17 (P): y = b1 + b2 e^(-b4 x) + b3 e^(-b5 x), x = 0, 10, ...,
 * 320. As a season: one load of 1 on day 0. Read before the session of day
 * x + 1 the load is x + 1 days old, so k1 = b2 e^b4 and k2 = -b3 e^b5; read
 * after the session of day x it is x days old, so k1 = b2 and k2 = -b3. */
static const double mgh17[33] = {
    .844, .908, .932, .936, .925, .908, .881, .850, .818, .784, .751,
    .718, .685, .658, .628, .603, .580, .558, .538, .522, .506, .490,
    .478, .467, .457, .448, .438, .431, .424, .420, .414, .411, .406};

static const double b1 = 3.7541005211E-01, b2 = 1.9358469127E+00,
                    b3 = -1.4646871366E+00, b4 = 1.2867534640E-02,
                    b5 = 2.2122699662E-02;

static void mgh17_season(ReadWhen when, Athlete *a) {
    athlete_start(a, 322, 33);
    a->load[0] = 1;
    for (size_t i = 0; i < 33; i++) {
        a->step[i] = 10 * i + (when == READ_BEFORE);
        a->when[i] = when;
        a->value[i] = mgh17[i];
    }
}

/* What both conventions share; `age` is that of the load at x = 0. */
static void check_mgh17(const Fit *fit, double age) {
    const double *v = fit->params.value;
    CU_ASSERT(fit->exists);
    ASSERT_NEAR(fit->rss / 5.4648946975E-05, 1, 1e-9);
    ASSERT_NEAR(fit->sigma / 1.3970497866E-03, 1, 1e-9);
    ASSERT_NEAR(v[PARAM_P0] / b1, 1, 1e-8);
    ASSERT_NEAR(v[PARAM_K1] / (b2 * exp(b4 * age)), 1, 1e-8);
    ASSERT_NEAR(v[PARAM_K2] / (-b3 * exp(b5 * age)), 1, 1e-8);
    ASSERT_NEAR(v[PARAM_TAU1] * b4, 1, 1e-8);
    ASSERT_NEAR(v[PARAM_TAU2] * b5, 1, 1e-8);
    ASSERT_NEAR(fit->se[PARAM_P0] / 2.0723153551E-03, 1, 1e-6);
    ASSERT_NEAR(fit->se[PARAM_TAU1] / pow(v[PARAM_TAU1], 2) / 4.4861358114E-04,
                1, 1e-6);
    ASSERT_NEAR(fit->se[PARAM_TAU2] / pow(v[PARAM_TAU2], 2) / 8.9471996575E-04,
                1, 1e-6);
    for (int i = 0; i < PARAMS; i++)
        CU_ASSERT_FALSE(fit->on_bound[i]);
}

/* Standard error of k e^(-1/tau), by its gradient. */
static double se_of_day_before(const Fit *fit, Param k, Param tau) {
    double t = fit->params.value[tau], q = exp(-1 / t);
    double by_tau = fit->params.value[k] * q / (t * t);
    return sqrt(q * q * fit->covariance[k][k] +
                2 * q * by_tau * fit->covariance[k][tau] +
                by_tau * by_tau * fit->covariance[tau][tau]);
}

static void test_fit_mgh17_before(void) {
    test_evidence("NIST StRD MGH17 (certified)",
                  "two-component fit: gains, times, standard errors");
    static Athlete a;
    Fit fit;
    mgh17_season(READ_BEFORE, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    check_mgh17(&fit, 1);
    /* the same two, computed for the project by another program (C) */
    ASSERT_NEAR(fit.params.value[PARAM_K1] / 1.96091744194, 1, 1e-8);
    ASSERT_NEAR(fit.params.value[PARAM_K2] / 1.49745104705, 1, 1e-8);
    ASSERT_NEAR(se_of_day_before(&fit, PARAM_K1, PARAM_TAU1) / 2.2031669222E-01,
                1, 1e-6);
    ASSERT_NEAR(se_of_day_before(&fit, PARAM_K2, PARAM_TAU2) / 2.2175707739E-01,
                1, 1e-6);
}

static void test_fit_mgh17_after(void) {
    test_evidence("NIST StRD MGH17 (certified), tests after sessions",
                  "two-component fit: gains, times, standard errors");
    static Athlete a;
    Fit fit;
    mgh17_season(READ_AFTER, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    check_mgh17(&fit, 0);
    ASSERT_NEAR(fit.se[PARAM_K1] / 2.2031669222E-01, 1, 1e-6);
    ASSERT_NEAR(fit.se[PARAM_K2] / 2.2175707739E-01, 1, 1e-6);
}

/* NIST StRD, Misra1a (P): y = b1 (1 - e^(-b2 x)). -y is a one-component
 * response to a load of 1 at x = 0 with p0 = -k1 = -b1. That p0 + k1 = 0 is
 * said by one more reading, 0 just after the load, with a weight so large that
 * what it gives way is below the digits compared; it takes the degree of
 * freedom that p0 brings. Ten units of x are a day: tau1 = 1/(10 b2) d. */
static void test_fit_misra1a(void) {
    test_evidence("NIST StRD Misra1a (certified)",
                  "one-component fit: gain, time, standard errors");
    static Athlete a;
    const double *v;
    Fit fit;
    athlete_start(&a, 15, 15);
    a.data.timeline.gap = a.gap;
    a.load[0] = 1;
    a.when[0] = READ_AFTER;
    a.weight[0] = 1e10;
    for (size_t i = 0; i < 14; i++) {
        a.gap[i + 1] = (misra_x[i] - (i ? misra_x[i - 1] : 0)) / 10;
        a.step[i + 1] = i + 1;
        a.value[i + 1] = -misra_y[i];
    }
    fit_best(RESPONSE_ONE_COMPONENT, &a.data, &fit);
    v = fit.params.value;
    ASSERT_NEAR(fit.rss / 1.2455138894E-01, 1, 1e-8);
    ASSERT_NEAR(fit.sigma / 1.0187876330E-01, 1, 1e-8);
    ASSERT_NEAR(v[PARAM_K1] / 2.3894212918E+02, 1, 1e-8);
    ASSERT_NEAR(v[PARAM_P0] / -2.3894212918E+02, 1, 1e-8);
    ASSERT_NEAR(v[PARAM_TAU1] * 10 * 5.5015643181E-04, 1, 1e-8);
    ASSERT_NEAR(fit.se[PARAM_K1] / 2.7070075241E+00, 1, 1e-6);
    ASSERT_NEAR(fit.se[PARAM_TAU1] / pow(v[PARAM_TAU1], 2) / 10 /
                    7.2668688436E-06,
                1, 1e-6);
}

/* ---- the last digits ---- */

/* Change of the readings with a parameter, by central differences of the
 * kernel. */
static void reading_slope(const Fit *fit, Param param, const Athlete *a,
                          double *slope) {
    double up[STEPS_MOST], down[STEPS_MOST];
    ResponseParams high = fit->params, low = fit->params;
    double h = 1e-5 * fabs(fit->params.value[param]);
    high.value[param] += h;
    low.value[param] -= h;
    readiness_along(&high, &a->data.timeline, a->when[0], up);
    readiness_along(&low, &a->data.timeline, a->when[0], down);
    for (size_t i = 0; i < a->data.count; i++)
        slope[i] = (up[a->step[i]] - down[a->step[i]]) / (2 * h);
}

/* Cosine between the residuals and what a parameter can do about them: 0 at
 * the minimum. A cosine c is a residual sum too large by c^2 of itself. */
static double cosine_of(const Fit *fit, Param param, const Athlete *a) {
    double slope[TESTS_MOST], left[TESTS_MOST], all[STEPS_MOST];
    size_t n = a->data.count;
    readiness_along(&fit->params, &a->data.timeline, a->when[0], all);
    for (size_t i = 0; i < n; i++)
        left[i] = a->value[i] - all[a->step[i]];
    reading_slope(fit, param, a, slope);
    return dot(slope, left, n) /
           sqrt(dot(slope, slope, n) * dot(left, left, n));
}

static void check_stationary(const Fit *fit, const Athlete *a) {
    for (int i = 0; i < PARAMS; i++)
        if (response_has(fit->params.kind, (Param)i) && !fit->on_bound[i])
            ASSERT_NEAR(cosine_of(fit, (Param)i, a), 0, 2e-6);
}

/* Of noisy tests the answer solves the normal equations to rounding: 2e-6 is
 * some digits above it, and asks for a residual sum right to 4e-12. At a bound
 * that one time constant sets for another, neither need be stationary. */
static void test_fit_stationary(void) {
    gsl_rng *rng = test_random(20206);
    static Athlete a;
    for (int round = 0; round < (quick() ? 40 : 240); round++) {
        ResponseKind kind = (ResponseKind)(round % 2);
        double noise = round % 3 ? 1.3 : 19.3;
        Fit fit;
        random_athlete(kind, rng, 7 + gsl_rng_uniform_int(rng, 14), noise, &a);
        fit_best(kind, &a.data, &fit);
        if (!fit.on_bound[PARAM_TAU2] && !fit.on_bound[PARAM_K1] &&
            !fit.on_bound[PARAM_K2])
            check_stationary(&fit, &a);
    }
    gsl_rng_free(rng);
}

/* fit_rss_at() against an explicit solution, and outside the bounds. */
static void test_fit_rss_at(void) {
    gsl_rng *rng = test_random(20205);
    static Athlete a;
    for (int round = 0; round < 40; round++) {
        double taus[SHAPE_TAUS] = {test_between(rng, 20, 190),
                                   test_between(rng, 1.2, 15), 0};
        Columns f, g;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, 9, 1.3, &a);
        columns_start(1, 9, &f);
        columns_start(1, 9, &g);
        columns_add(RESPONSE_TWO_COMPONENT, taus, true, &a, &f);
        columns_add(RESPONSE_TWO_COMPONENT, taus, false, &a, &g);
        ASSERT_NEAR(fit_rss_at(RESPONSE_TWO_COMPONENT, taus, &a.data) /
                        smallest_rss(&a, &f, &g),
                    1, 1e-9);
        columns_free(&f);
        columns_free(&g);
    }
    CU_ASSERT(isinf(fit_rss_at(RESPONSE_TWO_COMPONENT,
                               (const double[]){201, 10, 0}, &a.data)));
    CU_ASSERT(isinf(fit_rss_at(RESPONSE_TWO_COMPONENT,
                               (const double[]){30, .98, 0}, &a.data)));
    CU_ASSERT(isinf(fit_rss_at(RESPONSE_TWO_COMPONENT,
                               (const double[]){30, 27.4, 0}, &a.data)));
    CU_ASSERT(isinf(
        fit_rss_at(RESPONSE_DELAYED, (const double[]){30, 10, 27.4}, &a.data)));
    CU_ASSERT(isinf(fit_rss_at(RESPONSE_VARIABLE_DOSE,
                               (const double[]){30, 10, 60.5}, &a.data)));
    gsl_rng_free(rng);
}

/* ---- what a fit says of itself ---- */

static void test_fit_exists(void) {
    static const size_t free_ones[RESPONSE_GRADED] = {5, 3, 6, 6};
    gsl_rng *rng = test_random(20401);
    static Athlete a;
    for (int kind = 0; kind < RESPONSE_GRADED; kind++) {
        size_t least = free_ones[kind];
        Fit fit;
        random_athlete((ResponseKind)kind, rng, least, .7, &a);
        fit_best((ResponseKind)kind, &a.data, &fit);
        CU_ASSERT_EQUAL(fit.free, least);
        CU_ASSERT_FALSE(fit.exists);
        CU_ASSERT(isnan(fit.sigma) && isnan(fit.se[PARAM_P0]));
        random_athlete((ResponseKind)kind, rng, least + 1, .7, &a);
        fit_best((ResponseKind)kind, &a.data, &fit);
        CU_ASSERT(fit.exists);
        CU_ASSERT_EQUAL(fit.tests, least + 1);
        ASSERT_NEAR(fit.sigma, sqrt(fit.rss), 1e-12); /* one degree left */
    }
    gsl_rng_free(rng);
}

/* One test, two tests, equal tests, no training: the level alone. */
static void test_fit_degenerate(void) {
    gsl_rng *rng = test_random(20402);
    static Athlete a;
    Fit fit;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 1, .7, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    ASSERT_NEAR(fit.rss, 0, 1e-20);
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 8, .7, &a);
    for (size_t i = 0; i < 8; i++)
        a.value[i] = 23.85;
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    ASSERT_NEAR(fit.rss, 0, 1e-20);
    ASSERT_NEAR(fit.params.value[PARAM_P0], 23.85, 1e-12);
    CU_ASSERT(fit.on_bound[PARAM_K1] && fit.on_bound[PARAM_K2]);
    CU_ASSERT(isnan(fit.se[PARAM_K1]));
    CU_ASSERT(isnan(fit.r2)); /* nothing varies, so nothing is explained */
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 8, .7, &a);
    memset(a.load, 0, sizeof a.load);
    a.data.timeline.before = 0;
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    ASSERT_NEAR(fit.rss / centred_sum(&a.data), 1, 1e-12);
    ASSERT_NEAR(fit.params.value[PARAM_P0], gsl_stats_mean(a.value, 1, 8),
                1e-12);
    ASSERT_NEAR(fit.se[PARAM_P0], fit.sigma / sqrt(8), 1e-12);
    gsl_rng_free(rng);
}

/* Daily tests without noise whose truth lies beyond a bound. */
static void beyond(const double *value, Athlete *a) {
    gsl_rng *rng = test_random(20403);
    athlete_start(a, 160, 53);
    random_loads(rng, a);
    for (size_t i = 0; i < 53; i++)
        a->step[i] = 3 * i + 1;
    a->truth = params_of(RESPONSE_TWO_COMPONENT, value);
    for (size_t i = 0; i < 53; i++)
        a->value[i] = read_truth(a, i) + .3 * gsl_ran_ugaussian(rng);
    gsl_rng_free(rng);
}

static void check_bound(const double *truth, Param param, double bound) {
    static Athlete a;
    Fit fit;
    beyond(truth, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    CU_ASSERT(fit.on_bound[param]);
    ASSERT_NEAR(fit.params.value[param], bound, 1e-6);
    CU_ASSERT(isnan(fit.se[param]));
    CU_ASSERT(isnan(fit_correlation(&fit, PARAM_P0, param)));
}

static void test_fit_bounds(void) {
    static const double slow[PARAMS] = {93.1, .02, .025, 620, 9};
    static const double fast[PARAMS] = {93.1, .02, .12, 31, .35};
    static const double no_fatigue[PARAMS] = {93.1, .02, -.015, 60, 7};
    static const double no_fitness[PARAMS] = {93.1, -.02, .02, 60, 7};
    static const double close[PARAMS] = {93.1, .2, .2, 21.1, 23.3};
    static Athlete a;
    Fit fit;
    check_bound(slow, PARAM_TAU1, 200);
    check_bound(fast, PARAM_TAU2, 1);
    check_bound(no_fatigue, PARAM_K2, 0);
    check_bound(no_fitness, PARAM_K1, 0);
    beyond(close, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    CU_ASSERT(within_bounds(&fit.params));
}

/* One component whose tests fall as fitness rises: the mean alone is left. */
static void test_fit_gain_not_negative(void) {
    gsl_rng *rng = test_random(20404);
    static Athlete a;
    Fit fit, constant;
    random_athlete(RESPONSE_ONE_COMPONENT, rng, 12, 0, &a);
    a.truth.value[PARAM_K1] *= -1;
    for (size_t i = 0; i < 12; i++)
        a.value[i] = read_truth(&a, i);
    fit_best(RESPONSE_ONE_COMPONENT, &a.data, &fit);
    fit_constant(&a.data, &constant);
    CU_ASSERT(fit.params.value[PARAM_K1] >= 0);
    CU_ASSERT(fit.rss <= constant.rss * (1 + 1e-12));
    gsl_rng_free(rng);
}

/* What weights mean: two of one test are that test weighing twice, and a
 * common factor changes the residual sum alone. */
static void test_fit_weights(void) {
    gsl_rng *rng = test_random(20405);
    static Athlete a, twice;
    Fit fit, other;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 11, .6, &a);
    twice = a;
    athlete_start(&twice, a.data.timeline.steps, 12);
    memcpy(twice.load, a.load, sizeof a.load);
    twice.data.timeline.before = a.data.timeline.before;
    for (size_t i = 0; i < 12; i++) {
        size_t from = i > 4 ? i - 1 : i; /* test 4 stands there twice */
        twice.step[i] = a.step[from];
        twice.when[i] = a.when[from];
        twice.value[i] = a.value[from];
    }
    a.weight[4] = 2;
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    fit_best(RESPONSE_TWO_COMPONENT, &twice.data, &other);
    ASSERT_NEAR(other.rss / fit.rss, 1, 1e-9);
    ASSERT_NEAR(other.params.value[PARAM_TAU1] / fit.params.value[PARAM_TAU1],
                1, 1e-5);
    for (size_t i = 0; i < 11; i++)
        a.weight[i] *= 3.7;
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &other);
    ASSERT_NEAR(other.rss / fit.rss, 3.7, 1e-9);
    ASSERT_NEAR(other.params.value[PARAM_TAU1] / fit.params.value[PARAM_TAU1],
                1, 1e-5);
    ASSERT_NEAR(other.se[PARAM_P0] / fit.se[PARAM_P0], 1, 1e-4);
    gsl_rng_free(rng);
}

/* r2, AICc and the constant, by their formulas. */
static void test_fit_measures(void) {
    gsl_rng *rng = test_random(20406);
    static Athlete a;
    double mean, all, n = 14, k = 6; /* five parameters and sigma */
    Fit fit, constant;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 14, 1.1, &a);
    for (size_t i = 0; i < 14; i++)
        a.weight[i] = test_between(rng, .3, 1.7);
    mean = gsl_stats_wmean(a.weight, 1, a.value, 1, 14);
    all = centred_sum(&a.data);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    ASSERT_NEAR(fit.r2, 1 - fit.rss / all, 1e-12);
    ASSERT_NEAR(fit.sigma, sqrt(fit.rss / 9), 1e-12);
    ASSERT_NEAR(fit.aicc, n * log(fit.rss / n) + 2 * k * n / (n - k - 1),
                1e-11);
    fit_constant(&a.data, &constant);
    ASSERT_NEAR(constant.params.value[PARAM_P0], mean, 1e-13);
    ASSERT_NEAR(constant.rss / all, 1, 1e-12);
    CU_ASSERT_EQUAL(constant.free, 1);
    CU_ASSERT(constant.exists);
    ASSERT_NEAR(constant.sigma, sqrt(all / 13), 1e-12);
    ASSERT_NEAR(constant.aicc, n * log(all / n) + 2 * 2 * n / (n - 3), 1e-11);
    ASSERT_NEAR(constant.r2, 0, 1e-12);
    for (int i = 0; i < PARAMS; i++)
        for (int m = 0; m < PARAMS; m++)
            if (isfinite(fit.se[i]) && isfinite(fit.se[m]))
                CU_ASSERT(fabs(fit_correlation(&fit, (Param)i, (Param)m)) <=
                          1 + 1e-12);
    CU_ASSERT(isnan(fit.se[PARAM_K3]) && isnan(fit.se[PARAM_TAU_RISE]));
    gsl_rng_free(rng);
}

/* A start that was fitted to the tests counts as one parameter more, here five
 * and one; the curve is the same. */
static void test_fit_counts_start(void) {
    gsl_rng *rng = test_random(20408);
    static Athlete a;
    double n = 14, k = 7; /* six and sigma */
    Fit plain, fit, constant;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 14, .4, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &plain);
    fit_constant(&a.data, &constant);
    a.data.fitted = 1;
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    CU_ASSERT_EQUAL(fit.free, 6);
    ASSERT_NEAR(fit.rss / plain.rss, 1, 1e-12);
    ASSERT_NEAR(fit.sigma, sqrt(fit.rss / 8), 1e-12);
    ASSERT_NEAR(fit.aicc, n * log(fit.rss / n) + 2 * k * n / (n - k - 1),
                1e-11);
    ASSERT_NEAR(fit.se[PARAM_TAU1] / plain.se[PARAM_TAU1], sqrt(9 / 8.), 1e-9);
    ASSERT_NEAR(
        fit_f_test(&constant, &fit),
        gsl_cdf_fdist_Q((constant.rss - fit.rss) / 5 / (fit.rss / 8), 5, 8),
        1e-12);
    gsl_rng_free(rng);
}

/* AICc needs two tests more than it counts parameters. */
static void test_fit_aicc_limit(void) {
    gsl_rng *rng = test_random(20407);
    static Athlete a;
    Fit fit;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 7, 1.1, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    CU_ASSERT(isnan(fit.aicc));
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 8, 1.1, &a);
    fit_best(RESPONSE_TWO_COMPONENT, &a.data, &fit);
    ASSERT_NEAR(fit.aicc, 8 * log(fit.rss / 8) + 96, 1e-11);
    gsl_rng_free(rng);
}

static void check_f(double smaller, size_t small_free, double larger,
                    size_t large_free, size_t tests) {
    static const char script[] =
        "import sys; from scipy.stats import f\n"
        "s, p, l, q, n = (float(x) for x in sys.argv[1:])\n"
        "print(float(f.sf((s - l) / (q - p) / (l / (n - q)), q - p, n - q)))\n";
    Fit a = {.rss = smaller, .free = small_free, .tests = tests};
    Fit b = {.rss = larger, .free = large_free, .tests = tests};
    char word[5][40], *printed;
    double wanted;
    a.exists = b.exists = tests > large_free;
    snprintf(word[0], sizeof word[0], "%.17g", smaller);
    snprintf(word[1], sizeof word[1], "%zu", small_free);
    snprintf(word[2], sizeof word[2], "%.17g", larger);
    snprintf(word[3], sizeof word[3], "%zu", large_free);
    snprintf(word[4], sizeof word[4], "%zu", tests);
    printed = test_python(script, (const char *[]){word[0], word[1], word[2],
                                                   word[3], word[4], NULL});
    if (take_numbers(printed, &wanted, 1))
        ASSERT_NEAR(fit_f_test(&a, &b) / wanted, 1, 1e-9);
    free(printed);
}

static void test_fit_f_test(void) {
    test_evidence("SciPy, stats.f", "p of an F test");
    Fit smaller = {.rss = 3.9, .free = 3, .tests = 5, .exists = true};
    Fit larger = {.rss = 1.7, .free = 5, .tests = 5};
    check_f(31.7, 3, 12.9, 5, 16);
    check_f(31.7, 1, 30.2, 5, 9);
    check_f(2.385, 1, .0385, 3, 21);
    CU_ASSERT(isnan(fit_f_test(&smaller, &larger))); /* no degree left */
    larger.exists = true;
    larger.tests = smaller.tests = 12;
    CU_ASSERT(isnan(fit_f_test(&larger, &smaller))); /* wrong way round */
    larger.rss = 4.1;                                /* no improvement at all */
    ASSERT_NEAR(fit_f_test(&smaller, &larger), 1, 1e-12);
}

static const TestCase cases[] = {
    {"fit_mgh17_before", test_fit_mgh17_before},
    {"fit_mgh17_after", test_fit_mgh17_after},
    {"fit_misra1a", test_fit_misra1a},
    {"fit_stationary", test_fit_stationary},
    {"fit_rss_at", test_fit_rss_at},
    {"fit_exists", test_fit_exists},
    {"fit_degenerate", test_fit_degenerate},
    {"fit_bounds", test_fit_bounds},
    {"fit_gain_not_negative", test_fit_gain_not_negative},
    {"fit_weights", test_fit_weights},
    {"fit_measures", test_fit_measures},
    {"fit_counts_start", test_fit_counts_start},
    {"fit_aicc_limit", test_fit_aicc_limit},
    {"fit_f_test", test_fit_f_test},
    {NULL, NULL}};

const TestSuite suite_calibrate_fit = {"calibrate", cases};
