/* forecast, next, typical: predictions beside posteriors of the earlier tests
 * alone; the worth of a test beside its closed form; a squad's typical SD.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/forecast.h"
#include "calibrate/next.h"
#include "calibrate/rounds.h"
#include "calibrate/typical.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static void run_forecast(const Athlete *a, unsigned long seed, Forecast *f) {
    Model model = literature();
    TestGroup kind = {&a->data, sbc_prior};
    PosteriorAsked asked = {
        .model = &model, .kind = &kind, .kinds = 1, .seed = seed};
    Status status = {0};
    Trail *trail;
    CU_ASSERT_EQUAL_FATAL(rounds_run(&asked, &trail, &status), STATUS_OK);
    forecast_run(&a->data, trail, f);
    trail_free(trail);
}

enum { FORECAST_SEEDS = 12 };

/* Medians of several seeds among the readings of many draws of a posterior of
 * the tests before alone: the mean share below them is a half. Four standard
 * errors of it: a median of some 100 effective draws has .05. */
static void check_medians(const Athlete *a, size_t test) {
    static double all[STEPS_MOST], reading[DRAWS_MOST];
    Athlete earlier = *a;
    double share = 0;
    Posterior p;
    earlier.data.count = test;
    run_posterior(&earlier, &sbc_prior, DRAWS_MOST, 92, &p);
    for (size_t i = 0; i < DRAWS_MOST; i++) {
        readiness_along(&p.draws.set[i], &a->data.timeline, a->when[test], all);
        reading[i] = all[a->step[test]];
    }
    posterior_free(&p);
    for (unsigned long seed = 1; seed <= FORECAST_SEEDS; seed++) {
        Forecast f;
        run_forecast(a, seed, &f);
        for (size_t i = 0; i < DRAWS_MOST; i++)
            share += (reading[i] < f.predicted[test - 1]) /
                     (double)(DRAWS_MOST * FORECAST_SEEDS);
        forecast_free(&f);
    }
    ASSERT_NEAR(share, .5, 4 * .05 / sqrt(FORECAST_SEEDS));
}

/* 5 % and 95 % points with noise, from many more draws of another seed. */
static void check_interval(const Athlete *a, gsl_rng *rng, size_t test,
                           const Forecast *f) {
    Athlete earlier = *a;
    double reading[DRAWS_MOST], all[STEPS_MOST], width;
    double low = f->low[test - 1], high = f->high[test - 1];
    Posterior p;
    earlier.data.count = test;
    run_posterior(&earlier, &sbc_prior, DRAWS_MOST, 91, &p);
    for (size_t i = 0; i < DRAWS_MOST; i++) {
        readiness_along(&p.draws.set[i], &a->data.timeline, a->when[test], all);
        reading[i] = all[a->step[test]] +
                     gsl_ran_gaussian(rng, p.sigma[i] / sqrt(a->weight[test]));
    }
    posterior_free(&p);
    gsl_sort(reading, 1, DRAWS_MOST);
    width = gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .95) -
            gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .05);
    /* some hundred effective draws: four standard errors of the share,
       sqrt(.05 .95/100) = .022 */
    CU_ASSERT(low > gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST,
                                                        .0002));
    CU_ASSERT(low <
              gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .14));
    CU_ASSERT(high >
              gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .86));
    CU_ASSERT(high < gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST,
                                                         .9998));
    CU_ASSERT(width > 0 && f->predicted[test - 1] > low &&
              f->predicted[test - 1] < high);
}

/* Errors of the model and of each rival, and their pairs, from the
 * predictions. */
static void check_errors(const Athlete *a, const Forecast *f) {
    double square[RIVALS + 1][TESTS_MOST], n = (double)f->count;
    for (size_t i = 1; i < a->data.count; i++) {
        size_t from = i > 5 ? i - 5 : 0;
        const double guess[] = {a->value[i - 1], gsl_stats_mean(a->value, 1, i),
                                gsl_stats_mean(a->value + from, 1, i - from),
                                f->predicted[i - 1]};
        for (int r = 0; r <= RIVALS; r++)
            square[r][i - 1] = pow(a->value[i] - guess[r], 2);
    }
    ASSERT_NEAR(f->error, sqrt(gsl_stats_mean(square[RIVALS], 1, f->count)),
                1e-11);
    for (int r = 0; r < RIVALS; r++) {
        const Contest *c = &f->rival[r];
        double apart[TESTS_MOST];
        for (size_t i = 0; i < f->count; i++)
            apart[i] = square[r][i] - square[RIVALS][i];
        ASSERT_NEAR(c->error, sqrt(gsl_stats_mean(square[r], 1, f->count)),
                    1e-11);
        ASSERT_NEAR(c->ahead, gsl_stats_mean(apart, 1, f->count), 1e-11);
        ASSERT_NEAR(c->noise, gsl_stats_sd(apart, 1, f->count) / sqrt(n), 1e-9);
        CU_ASSERT_EQUAL(c->better,
                        (c->ahead > 2 * c->noise) - (c->ahead < -2 * c->noise));
    }
    ASSERT_NEAR(f->skill, 1 - pow(f->error / f->rival[RIVAL_LAST].error, 2),
                1e-11);
}

static void test_forecast(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20901);
    Forecast f;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 8, .5, &a);
    a.weight[3] = .4;
    a.when[5] = a.when[0] == READ_AFTER ? READ_BEFORE : READ_AFTER;
    a.value[5] = read_truth(&a, 5);
    run_forecast(&a, 17, &f);
    CU_ASSERT_EQUAL_FATAL(f.count, 7);
    for (size_t i = 1; i < 8; i++) {
        check_medians(&a, i);
        check_interval(&a, rng, i, &f);
    }
    check_errors(&a, &f);
    forecast_free(&f);
    gsl_rng_free(rng);
}

/* Training drives these tests: the model must predict better than the test
 * before, and than means. One test predicts nothing; equal tests leave no skill
 * to tell. */
static void test_forecast_skill(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20902);
    Forecast f;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 20, .15, &a);
    run_forecast(&a, 17, &f);
    CU_ASSERT(f.skill > .5);
    CU_ASSERT_EQUAL(f.rival[RIVAL_LAST].better, 1);
    forecast_free(&f);
    a.data.count = 1;
    run_forecast(&a, 17, &f);
    CU_ASSERT(f.count == 0 && isnan(f.skill));
    forecast_free(&f);
    a.data.count = 3;
    a.value[0] = a.value[1] = a.value[2] = 91.5;
    run_forecast(&a, 17, &f);
    CU_ASSERT(f.count == 2 && isnan(f.skill));
    for (int r = 0; r < RIVALS; r++)
        CU_ASSERT(f.rival[r].better == 0 && isnan(f.rival[r].noise));
    forecast_free(&f);
    gsl_rng_free(rng);
}

/* Tests that are noise about a level: of a hundred athletes hardly one may hear
 * that the model predicts better than their mean. */
static void test_forecast_noise(void) {
    enum { ATHLETES = 60 };
    static Athlete a;
    gsl_rng *rng = test_random(20904);
    int better = 0;
    for (int i = 0; i < ATHLETES; i++) {
        Forecast f;
        random_athlete(RESPONSE_TWO_COMPONENT, rng, 12, .5, &a);
        for (size_t k = 0; k < 12; k++)
            a.value[k] = 83.7 + 1.4 * gsl_ran_ugaussian(rng);
        run_forecast(&a, 17, &f);
        better += f.rival[RIVAL_MEAN].better > 0;
        forecast_free(&f);
    }
    printf("\n    better than the mean on noise: %d of %d\n    ", better,
           ATHLETES);
    CU_ASSERT(better <= ATHLETES / 15);
    gsl_rng_free(rng);
}

/* Of many tests the posterior is drawn anew for some of them only. */
static void test_forecast_many(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20910);
    Forecast f;
    size_t inside = 0;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 75, .8, &a);
    run_forecast(&a, 17, &f);
    CU_ASSERT_EQUAL(f.count, 74);
    for (size_t i = 0; i < 74; i++)
        inside += a.value[i + 1] >= f.low[i] && a.value[i + 1] <= f.high[i];
    /* 90 %, four binomial standard deviations */
    CU_ASSERT(inside >= 56 && inside <= 74);
    CU_ASSERT(f.rival[RIVAL_MEAN].ahead > 0);
    check_errors(&a, &f);
    forecast_free(&f);
    gsl_rng_free(rng);
}

/* How far the predictions of two tests move when the one before both is wrong
 * by ten times its noise, in widths of their 90 % intervals. */
static void moved(size_t tests, size_t wrong, double move[2]) {
    static Athlete a;
    gsl_rng *rng = test_random(20911);
    Forecast one, other;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, tests, .8, &a);
    run_forecast(&a, 17, &one);
    a.value[wrong] += 8;
    run_forecast(&a, 17, &other);
    for (size_t i = 0; i < 2; i++)
        move[i] = fabs(other.predicted[wrong + i] - one.predicted[wrong + i]) /
                  (one.high[wrong + i] - one.low[wrong + i]);
    forecast_free(&one);
    forecast_free(&other);
    gsl_rng_free(rng);
}

/* Up to 30 predictions know every test before them; of 31 two have those before
 * the first of them: a wrong test tells whether it was known. */
static void test_forecast_renewed(void) {
    double move[2];
    moved(31, 15, move);
    CU_ASSERT(move[0] > .3 && move[1] > .3);
    moved(32, 15, move);
    CU_ASSERT(move[0] < .1 && move[1] > .3);
}

static void test_forecast_at(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20903);
    Posterior p;
    double reading[150], all[STEPS_MOST];
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 4, .5, &a);
    run_posterior(&a, &sbc_prior, 150, 5, &p);
    for (int when = 0; when < 2; when++) {
        forecast_at(&p.draws, &a.data.timeline, 77, (ReadWhen)when, reading);
        for (size_t i = 0; i < 150; i++) {
            readiness_along(&p.draws.set[i], &a.data.timeline, (ReadWhen)when,
                            all);
            ASSERT_NEAR(reading[i], all[77], 1e-11);
        }
    }
    posterior_free(&p);
    gsl_rng_free(rng);
}

/* ---- next ---- */

enum { NEXT_DRAWS = 4000 };

/* No taper gains 0, a taper m + z with z standard normal, and the test reads z
 * with an error of sigma: the mean left after it is normal about m with SD
 * r = 1/sqrt(1 + sigma^2), so that the choice is worth
 *
 *     m P(m/r) + r p(m/r) - max(m, 0)
 *
 * (P, p: the normal distribution and its density; worked out for this test). */
static void check_worth(gsl_rng *rng, double m, double sigma) {
    static double reading[NEXT_DRAWS], error[NEXT_DRAWS], gain[2 * NEXT_DRAWS];
    static ResponseParams set[NEXT_DRAWS];
    Posterior p = {.draws = {NEXT_DRAWS, set}, .sigma = error};
    Choice choice = {2, gain};
    double r = 1 / sqrt(1 + sigma * sigma);
    for (size_t i = 0; i < NEXT_DRAWS; i++) {
        reading[i] = gsl_cdf_ugaussian_Pinv(((double)i + .5) / NEXT_DRAWS);
        error[i] = sigma;
    }
    gsl_ran_shuffle(rng, reading, NEXT_DRAWS, sizeof *reading);
    for (size_t i = 0; i < NEXT_DRAWS; i++) {
        gain[i] = 0;
        gain[NEXT_DRAWS + i] = m + reading[i];
    }
    ASSERT_NEAR(next_worth(&p, reading, &choice),
                m * gsl_cdf_ugaussian_P(m / r) +
                    r * gsl_ran_ugaussian_pdf(m / r) - fmax(m, 0),
                .08);
}

static void test_next_normal(void) {
    gsl_rng *rng = test_random(21001);
    test_evidence("closed form of the expected value of a sample",
                  "worth of a next test");
    check_worth(rng, 0, .2385);
    check_worth(rng, .4, .7);
    check_worth(rng, -.3, .7);
    check_worth(rng, 0, 2.1);
    gsl_rng_free(rng);
}

/* A test that tells nothing is worth nothing; one option leaves no choice. */
static void test_next_worthless(void) {
    enum { DRAWS = 500 };
    double reading[DRAWS], error[DRAWS], gain[2 * DRAWS];
    static ResponseParams set[DRAWS];
    Posterior p = {.draws = {DRAWS, set}, .sigma = error};
    Choice choice = {2, gain};
    for (size_t i = 0; i < DRAWS; i++) {
        reading[i] = 2.385;
        error[i] = .7;
        gain[i] = 0;
        gain[DRAWS + i] = sin((double)i);
    }
    ASSERT_NEAR(next_worth(&p, reading, &choice), 0, 1e-12);
    for (size_t i = 0; i < DRAWS; i++)
        reading[i] = sin((double)i);
    CU_ASSERT(next_worth(&p, reading, &choice) > .1);
    choice.options = 1;
    ASSERT_NEAR(next_worth(&p, reading, &choice), 0, 1e-12);
}

/* ---- typical ---- */

static void test_typical(void) {
    /* SDs by hand: 1, 2, sqrt(1/2) of the pair */
    static const double value[] = {10, 11, 12, 20, 22, 24, 30, 31, 70};
    static const size_t athlete[] = {1, 1, 1, 2, 2, 2, 5, 5, 6};
    SquadReadings all = {9, value, athlete};
    SquadReadings pair = {3, value + 6, athlete + 6};
    SquadReadings singles = {2, (const double[]){12, 15},
                             (const size_t[]){0, 1}};
    SquadReadings alone = {1, value, athlete};
    SquadReadings equal = {3, (const double[]){4, 4, 4},
                           (const size_t[]){0, 0, 0}};
    SquadReadings zeros = {2, (const double[]){0, 0}, (const size_t[]){0, 0}};
    SquadReadings none = {0, value, athlete};
    ASSERT_NEAR(typical_spread(&all), 1.5, 1e-13);
    ASSERT_NEAR(typical_spread(&pair), sqrt(.5), 1e-13);
    ASSERT_NEAR(typical_spread(&singles), 3 / sqrt(2), 1e-13);
    ASSERT_NEAR(typical_spread(&alone), .2, 1e-13);
    ASSERT_NEAR(typical_spread(&equal), .08, 1e-13);
    ASSERT_NEAR(typical_spread(&zeros), 1, 1e-13);
    ASSERT_NEAR(typical_spread(&none), 1, 1e-13);
}

static const TestCase cases[] = {{"forecast", test_forecast},
                                 {"forecast_skill", test_forecast_skill},
                                 {"forecast_noise", test_forecast_noise},
                                 {"forecast_many", test_forecast_many},
                                 {"forecast_renewed", test_forecast_renewed},
                                 {"forecast_at", test_forecast_at},
                                 {"next_normal", test_next_normal},
                                 {"next_worthless", test_next_worthless},
                                 {"typical", test_typical},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_forecast = {"calibrate", cases};
