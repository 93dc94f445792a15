/* fit_global: no point of a dense grid is better than the best fit.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed. With PEAKWARD_QUICK set
 * (sanitizers, valgrind) the long loops are shorter and their bounds wider.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "grids.h"
#include "test.h"

#include "calibrate/fit.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>

static double grid_rss(ResponseKind kind, int size, const Athlete *a) {
    Columns f, g;
    double rss;
    fill_fitness(kind, size, a, &f);
    fill_fatigue(kind, size, a, &g);
    rss = smallest_rss(a, &f, &g);
    columns_free(&f);
    columns_free(&g);
    return rss;
}

/* Noise as a share of the effect of training; 0 none, 5 nothing but noise. */
static double some_noise(int round) {
    static const double noise[] = {0, .02, .1, .3, 1, 5};
    return 3.85 * noise[round % 6];
}

/* The least-squares fit is nowhere above the grid, nor above the truth. */
static void check_global(ResponseKind kind, int round, int size, gsl_rng *rng) {
    static Athlete a;
    size_t tests = kind == RESPONSE_TWO_COMPONENT ? 6 : 7;
    double all, grid, truth;
    Fit fit;
    random_athlete(kind, rng, tests + gsl_rng_uniform_int(rng, 15),
                   some_noise(round), &a);
    fit_best(kind, &a.data, &fit);
    grid = grid_rss(kind, size, &a);
    all = centred_sum(&a.data);
    truth = within_bounds(&a.truth) ? rss_of(&a.truth, &a.data) : INFINITY;
    if (fit.rss > grid * (1 + 1e-9) || fit.rss > truth * (1 + 1e-9) + 1e-15)
        printf("\n    %s %d: fit %.12g grid %.12g truth %.12g\n",
               response_kind_names[kind], round, fit.rss, grid, truth);
    CU_ASSERT(fit.rss <= grid * (1 + 1e-9));
    /* 1e-15: rounding of readings near 100 */
    CU_ASSERT(fit.rss <= truth * (1 + 1e-9) + 1e-15 * (double)a.data.count);
    /* the parameters are those of the residual sum, and allowed */
    CU_ASSERT(within_bounds(&fit.params));
    CU_ASSERT(fabs(rss_of(&fit.params, &a.data) - fit.rss) <=
              1e-9 * fit.rss + 1e-13 * all);
}

static void global_minimum(ResponseKind kind, int athletes, int size,
                           unsigned long seed) {
    gsl_rng *rng = test_random(seed);
    for (int i = 0; i < athletes; i++)
        check_global(kind, i, size, rng);
    gsl_rng_free(rng);
}

static void test_fit_global_two(void) {
    global_minimum(RESPONSE_TWO_COMPONENT, quick() ? 40 : 500, 120, 20201);
}

static void test_fit_global_one(void) {
    global_minimum(RESPONSE_ONE_COMPONENT, quick() ? 20 : 200, 800, 20202);
}

static void test_fit_global_delayed(void) {
    global_minimum(RESPONSE_DELAYED, quick() ? 2 : 18, quick() ? 24 : 50,
                   20203);
    if (!quick()) /* round 14 has a valley that a grid of 24 points misses */
        global_minimum(RESPONSE_DELAYED, 18, 50, 777);
}

static void test_fit_global_variable(void) {
    global_minimum(RESPONSE_VARIABLE_DOSE, quick() ? 2 : 18, quick() ? 24 : 50,
                   20204);
}

static const TestCase cases[] = {
    {"fit_global_two", test_fit_global_two},
    {"fit_global_one", test_fit_global_one},
    {"fit_global_delayed", test_fit_global_delayed},
    {"fit_global_variable", test_fit_global_variable},
    {NULL, NULL}};

const TestSuite suite_calibrate_fit_global = {"calibrate", cases};
