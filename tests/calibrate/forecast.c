/* forecast: beside a posterior of the earlier tests alone.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed. With PEAKWARD_QUICK set
 * (sanitizers, valgrind) the long loops are shorter and their bounds wider.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "quantities.h"
#include "test.h"

#include "calibrate/forecast.h"
#include "calibrate/posterior.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

/* Draws of forecast_run()'s posteriors. */
enum { FORECAST_DRAWS = 512, FORECAST_SEEDS = 6 };

static StatusCode run_forecast(const Athlete *a, unsigned long seed,
                               Forecast *f) {
    Model model = literature();
    Status status = {0};
    Posterior p;
    Trail *trail = NULL;
    StatusCode code = posterior_run_kept(&model, &a->data, &sbc_prior, 64, seed,
                                         &p, &trail, &status);
    CU_ASSERT_EQUAL(code, STATUS_OK);
    forecast_run(&a->data, seed, trail, f);
    trail_free(trail);
    posterior_free(&p);
    return code;
}

/* Medians of several seeds among the readings of many draws of a posterior of
 * the tests before alone: the mean share below them is a half. Four standard
 * errors of it: a median of 200 effective draws has .035. */
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
    ASSERT_NEAR(share, .5, 4 * .035 / sqrt(FORECAST_SEEDS));
}

/* 5 % and 95 % points with noise, from many more draws of another seed. */
static void check_interval(const Athlete *a, const PosteriorPrior *prior,
                           gsl_rng *rng, size_t test, const Forecast *f) {
    Athlete earlier = *a;
    double reading[DRAWS_MOST], all[STEPS_MOST], width;
    double low = f->low[test - 1], high = f->high[test - 1];
    Posterior p;
    earlier.data.count = test;
    run_posterior(&earlier, prior, DRAWS_MOST, 91, &p);
    for (size_t i = 0; i < DRAWS_MOST; i++) {
        readiness_along(&p.draws.set[i], &a->data.timeline, a->when[test], all);
        reading[i] = all[a->step[test]] +
                     gsl_ran_gaussian(rng, p.sigma[i] / sqrt(a->weight[test]));
    }
    posterior_free(&p);
    gsl_sort(reading, 1, DRAWS_MOST);
    width = gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .95) -
            gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .05);
    /* the points of 512 draws stand between the 1 and 10 % points: four
       standard errors of the share, sqrt(.05 .95/512) = .0096 */
    CU_ASSERT(low > gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST,
                                                        .0115));
    CU_ASSERT(low <
              gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .09));
    CU_ASSERT(high >
              gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST, .91));
    CU_ASSERT(high < gsl_stats_quantile_from_sorted_data(reading, 1, DRAWS_MOST,
                                                         .9885));
    CU_ASSERT(width > 0 && f->predicted[test - 1] > low &&
              f->predicted[test - 1] < high);
}

/* Root mean square errors and skill from the predictions. */
static void check_errors(const Athlete *a, const Forecast *f) {
    double model = 0, last = 0, mean = 0, n = (double)f->count;
    for (size_t i = 1; i < a->data.count; i++) {
        double so_far = gsl_stats_mean(a->value, 1, i);
        model += pow(a->value[i] - f->predicted[i - 1], 2) / n;
        last += pow(a->value[i] - a->value[i - 1], 2) / n;
        mean += pow(a->value[i] - so_far, 2) / n;
    }
    ASSERT_NEAR(f->model, sqrt(model), 1e-11);
    ASSERT_NEAR(f->last, sqrt(last), 1e-11);
    ASSERT_NEAR(f->mean, sqrt(mean), 1e-11);
    ASSERT_NEAR(f->skill, 1 - model / last, 1e-11);
}

static void test_forecast(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20901);
    Forecast f;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 8, .5, &a);
    a.weight[3] = .4;
    a.when[5] = a.when[0] == READ_AFTER ? READ_BEFORE : READ_AFTER;
    a.value[5] = read_truth(&a, 5);
    CU_ASSERT_EQUAL(run_forecast(&a, 17, &f), STATUS_OK);
    CU_ASSERT_EQUAL_FATAL(f.count, 7);
    for (size_t i = 1; i < 8; i++) {
        check_medians(&a, i);
        check_interval(&a, &sbc_prior, rng, i, &f);
    }
    check_errors(&a, &f);
    forecast_free(&f);
    gsl_rng_free(rng);
}

/* Training drives these tests: the model must predict better than the test
 * before. One test predicts nothing; equal tests leave no skill to tell. */
static void test_forecast_skill(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20902);
    Forecast f;
    random_athlete(RESPONSE_TWO_COMPONENT, rng, 20, .15, &a);
    run_forecast(&a, 17, &f);
    CU_ASSERT(f.skill > .5);
    forecast_free(&f);
    a.data.count = 1;
    CU_ASSERT_EQUAL(run_forecast(&a, 17, &f), STATUS_OK);
    CU_ASSERT(f.count == 0 && isnan(f.skill));
    forecast_free(&f);
    a.data.count = 3;
    a.value[0] = a.value[1] = a.value[2] = 91.5;
    CU_ASSERT_EQUAL(run_forecast(&a, 17, &f), STATUS_OK);
    CU_ASSERT(f.count == 2 && isnan(f.skill));
    forecast_free(&f);
    gsl_rng_free(rng);
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

static const TestCase cases[] = {{"forecast", test_forecast},
                                 {"forecast_skill", test_forecast_skill},
                                 {"forecast_at", test_forecast_at},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_forecast = {"calibrate", cases};
