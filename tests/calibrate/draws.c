/* draws: seeds, moments of the prior, medians beside numpy's; quantiles beside
 * GSL's.
 *
 * Check values stand beside their source and its status: P read in the
 * publication, M from memory, C computed from the formula by an independent
 * program (R or C). Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/tracks.h"
#include "test.h"

#include "calibrate/draws.h"
#include "response/landmarks.h"
#include "response/model.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A model of this test's own. */
static Model spread_model(ResponseParams params, double k2, double tau1,
                          double tau2) {
    static char name[] = "test";
    Model m = {.name = name, .params = params};
    for (int i = 0; i < PARAMS; i++)
        m.spread[i] = NAN;
    m.spread[PARAM_K2] = k2;
    m.spread[PARAM_TAU1] = tau1;
    m.spread[PARAM_TAU2] = tau2;
    return m;
}

static Draws draw(const Model *m, size_t count, unsigned long seed) {
    Draws draws;
    Status status = {0};
    CU_ASSERT_EQUAL(draws_from_spreads(m, count, seed, &draws, &status),
                    STATUS_OK);
    CU_ASSERT_EQUAL(draws.count, count);
    return draws;
}

static bool same_draws(const Draws *a, const Draws *b) {
    bool same = a->count == b->count;
    for (size_t i = 0; i < a->count && same; i++)
        for (int k = 0; k < PARAMS && same; k++)
            same = a->set[i].value[k] == b->set[i].value[k] ||
                   isnan(a->set[i].value[k]);
    return same;
}

static void test_draws_seed(void) {
    Model m = spread_model(two(500, 1, 1.9, 42, 13), .3, .3, .4);
    Draws a = draw(&m, 1024, 1), again = draw(&m, 1024, 1);
    Draws other = draw(&m, 1024, 2);
    CU_ASSERT(same_draws(&a, &again));
    CU_ASSERT_FALSE(same_draws(&a, &other));
    CU_ASSERT_EQUAL(DRAWS_DEFAULT, 1024);
    draws_free(&a);
    draws_free(&again);
    draws_free(&other);
}

/* What has no spread stays, and each draw is a model of the kind. */
static void test_draws_fixed(void) {
    Model m = spread_model(two(500, 1.25, 1.9, 42, 13), .3, NAN, .4);
    Draws a = draw(&m, 300, 7);
    for (size_t i = 0; i < a.count; i++) {
        const double *v = a.set[i].value;
        CU_ASSERT_EQUAL(a.set[i].kind, RESPONSE_TWO_COMPONENT);
        CU_ASSERT_EQUAL(v[PARAM_P0], 500);
        CU_ASSERT_EQUAL(v[PARAM_K1], 1.25);
        CU_ASSERT_EQUAL(v[PARAM_TAU1], 42);
        CU_ASSERT(v[PARAM_K2] > 0 && v[PARAM_TAU2] > 0);
        CU_ASSERT(v[PARAM_TAU1] > 1.3 * v[PARAM_TAU2]);
        CU_ASSERT(isnan(v[PARAM_TAU3]));
    }
    draws_free(&a);
}

static void logs_of(const Draws *draws, Param param, double *logs) {
    for (size_t i = 0; i < draws->count; i++)
        logs[i] = log(draws->set[i].value[param]);
}

/* Mean and SD of the logarithms within three standard errors of a plain random
 * sample of this size (a quasi-random one is nearer), SD/sqrt(n) and
 * SD/sqrt(2n). */
static void check_logs(const Draws *draws, Param param, double mean,
                       double sd) {
    double *logs = malloc(draws->count * sizeof *logs);
    double n = (double)draws->count;
    logs_of(draws, param, logs);
    CU_ASSERT(fabs(gsl_stats_mean(logs, 1, draws->count) - mean) <
              3 * sd / sqrt(n));
    CU_ASSERT(fabs(gsl_stats_sd(logs, 1, draws->count) - sd) <
              3 * sd / sqrt(2 * n));
    free(logs);
}

/* Time constants so far apart that the least ratio cuts nothing off: ln(95/6)
 * is 2.76, ln 1.3 is .26, SD of the difference .28, 8.9 SD away. Medians
 * within three standard errors, 1.2533 SD/sqrt(n). */
static void test_draws_apart(void) {
    Model m = spread_model(two(500, 1, 1.9, 95, 6), .3, .2, .2);
    static const Param params[] = {PARAM_K2, PARAM_TAU1, PARAM_TAU2};
    for (unsigned long seed = 1; seed <= 20; seed++) {
        Draws draws = draw(&m, 2048, seed);
        for (int i = 0; i < 3; i++) {
            double logs[2048], sd = m.spread[params[i]];
            double centre = log(m.params.value[params[i]]);
            logs_of(&draws, params[i], logs);
            CU_ASSERT(fabs(draws_quantile(logs, 2048, .5) - centre) <
                      3 * 1.2533 * sd / sqrt(2048));
            check_logs(&draws, params[i], centre, sd);
        }
        draws_free(&draws);
    }
}

/* Spreads where tau1 > 1.3 tau2 cuts off 3.4 %. With x = ln
 * tau1, d = ln tau1 - ln tau2 normal, d > c: the mean of x moves by
 * cov(x,d)/SD(d) lambda and its variance by (cov/SD(d))^2 (a lambda -
 * lambda^2), a = (c - mean d)/SD(d), lambda = density/upper tail at a (moments
 * of the truncated normal). */
static void test_draws_truncated(void) {
    bool good;
    const double s1 = .3, s2 = .4, sd = sqrt(s1 * s1 + s2 * s2);
    const double a = (log(1.3) - log(42.0 / 13)) / sd;
    const double lambda = gsl_ran_ugaussian_pdf(a) / gsl_cdf_ugaussian_Q(a);
    const double narrower = a * lambda - lambda * lambda;
    Model m = spread_model(two(0, 1, 1.9, 42, 13), .3, s1, s2);
    ASSERT_NEAR(gsl_cdf_ugaussian_P(a), .0343, .001);
    for (unsigned long seed = 1; seed <= 20; seed++) {
        Draws draws = draw(&m, 4096, seed);
        good = true;
        for (size_t i = 0; i < draws.count; i++)
            good = good && (draws.set[i].value[PARAM_TAU1] >
                            1.3 * draws.set[i].value[PARAM_TAU2]);
        CU_ASSERT(good);
        check_logs(&draws, PARAM_K2, log(1.9), .3);
        check_logs(&draws, PARAM_TAU1, log(42) + s1 * s1 / sd * lambda,
                   s1 * sqrt(1 + s1 * s1 / sd / sd * narrower));
        check_logs(&draws, PARAM_TAU2, log(13) - s2 * s2 / sd * lambda,
                   s2 * sqrt(1 + s2 * s2 / sd / sd * narrower));
        draws_free(&draws);
    }
}

/* The draws of different parameters do not move together: correlation within
 * three of its standard errors, 1/sqrt(n). */
static void test_draws_independent(void) {
    Model m = spread_model(two(500, 1, 1.9, 95, 6), .3, .2, .2);
    static const Param pairs[][2] = {{PARAM_K2, PARAM_TAU1},
                                     {PARAM_K2, PARAM_TAU2},
                                     {PARAM_TAU1, PARAM_TAU2}};
    Draws draws = draw(&m, 2048, 11);
    for (int i = 0; i < 3; i++) {
        double x[2048], y[2048];
        logs_of(&draws, pairs[i][0], x);
        logs_of(&draws, pairs[i][1], y);
        CU_ASSERT(fabs(gsl_stats_correlation(x, 1, y, 1, 2048)) <
                  3 / sqrt(2048));
    }
    draws_free(&draws);
}

/* Four million draws of numpy from the same truncated prior have the medians
 * 9.82 d (t_n, 0 where there is none) and 29.23 d (t_g) (C; Mujika et al. 1996
 * give 12 +- 6 and 32 +- 12, M). Tolerance: three standard errors of a median,
 * 1/(2 density sqrt(n)), .22 and .36 d. */
static void test_draws_landmarks(void) {
    Model m;
    Notes notes = {0};
    double t_n[4096], t_g[4096];
    Draws draws;
    CU_ASSERT_FATAL(model_find("literature", "models", &m, &notes));
    draws = draw(&m, 4096, 1);
    for (size_t i = 0; i < draws.count; i++) {
        Landmarks marks = landmarks_of(&draws.set[i]);
        t_n[i] = isfinite(marks.t_n) ? marks.t_n : 0;
        t_g[i] = isfinite(marks.t_g) ? marks.t_g : 0;
    }
    CU_ASSERT(fabs(draws_quantile(t_n, 4096, .5) - 9.82) < .67);
    CU_ASSERT(fabs(draws_quantile(t_g, 4096, .5) - 29.23) < 1.1);
    draws_free(&draws);
    model_free(&m);
    notes_free(&notes);
}

static void test_draws_none(void) {
    Model m = spread_model(two(500, 1, 1.9, 42, 13), NAN, NAN, 0);
    Draws draws = {99, NULL};
    Status status = {0};
    CU_ASSERT_EQUAL(draws_from_spreads(&m, 64, 1, &draws, &status), STATUS_OK);
    CU_ASSERT_EQUAL(draws.count, 0);
    draws_free(&draws);
}

static void test_draws_one_component(void) {
    Model m = spread_model(one(3, .5, 31), NAN, .25, NAN);
    Draws draws = draw(&m, 2048, 3);
    check_logs(&draws, PARAM_TAU1, log(31), .25);
    draws_free(&draws);
}

/* tau1 15, tau2 14 with hardly any spread: no draw keeps them apart. */
static void test_draws_too_near(void) {
    Model m = spread_model(two(500, 1, 1.9, 15, 14), .3, .001, .001);
    Draws draws;
    Status status = {0};
    CU_ASSERT_EQUAL(draws_from_spreads(&m, 64, 1, &draws, &status),
                    STATUS_DATA);
    ASSERT_HAS(status.text, "tau1 above 1.3 tau2");
    ASSERT_HAS(status.text, "test: ");
    CU_ASSERT_EQUAL(draws.count, 0);
    draws_free(&draws);
}

/* By hand: sorted 1.2 3.1 4.4 7.9 9.5, quantile p at place 4p. */
static void test_quantile(void) {
    static const double sample[] = {4.4, 9.5, 1.2, 7.9, 3.1};
    static const struct {
        double p, wanted;
    } rows[] = {{0, 1.2},  {.05, 1.58}, {.25, 3.1},  {.3, 3.36},
                {.5, 4.4}, {.6, 5.8},   {.95, 9.18}, {1, 9.5}};
    double single = 2.385;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double values[5];
        memcpy(values, sample, sizeof sample);
        ASSERT_NEAR(draws_quantile(values, 5, rows[i].p), rows[i].wanted,
                    1e-14);
    }
    CU_ASSERT_EQUAL(draws_quantile(&single, 1, .95), 2.385);
    CU_ASSERT(isnan(draws_quantile(NULL, 0, .5)));
}

/* Against GSL's sort and quantile, with many ties. */
static void test_quantile_random(void) {
    gsl_rng *rng = test_random(55);
    for (int round = 0; round < 3000; round++) {
        double values[60], sorted[60], p = gsl_rng_uniform(rng);
        size_t count = 1 + gsl_rng_uniform_int(rng, 60);
        bool coarse = round % 2;
        for (size_t i = 0; i < count; i++)
            values[i] = sorted[i] = coarse ? (double)gsl_rng_uniform_int(rng, 5)
                                           : test_between(rng, -9, 9);
        gsl_sort(sorted, 1, count);
        ASSERT_NEAR(draws_quantile(values, count, p),
                    gsl_stats_quantile_from_sorted_data(sorted, 1, count, p),
                    1e-12);
        gsl_sort(values, 1, count); /* reordered, not changed */
        CU_ASSERT_EQUAL(memcmp(values, sorted, count * sizeof *values), 0);
    }
    gsl_rng_free(rng);
}

static const TestCase cases[] = {
    {"draws_seed", test_draws_seed},
    {"draws_fixed", test_draws_fixed},
    {"draws_apart", test_draws_apart},
    {"draws_truncated", test_draws_truncated},
    {"draws_independent", test_draws_independent},
    {"draws_landmarks", test_draws_landmarks},
    {"draws_none", test_draws_none},
    {"draws_one_component", test_draws_one_component},
    {"draws_too_near", test_draws_too_near},
    {"quantile", test_quantile},
    {"quantile_random", test_quantile_random},
    {NULL, NULL}};

const TestSuite suite_calibrate_draws = {"calibrate", cases};
