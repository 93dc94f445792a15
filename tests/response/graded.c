/* graded: the kind between two-component and variable-dose: its ends, GSL's
 * differential equations between them, and that no unit of load matters.
 *
 * Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"
#include "tracks.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

/* tau1 39 d, tau2 12 d, ratio 2.1, tau3 2.3 d, at a mean load of 245.5 a day.
 */
static ResponseParams graded(double growth, double mean) {
    ResponseParams p = two(12.25, .385, NAN, 39, 12);
    p.kind = RESPONSE_GRADED;
    p.value[PARAM_TAU3] = 2.3;
    p.value[PARAM_RATIO] = 2.1;
    p.value[PARAM_GROWTH] = growth;
    response_settle(&p, mean);
    return p;
}

static void compare(const ResponseParams *p, const ResponseParams *other,
                    const Track *t) {
    double one[STEPS_MOST], two_[STEPS_MOST];
    readiness_of(p, &t->line, READ_BEFORE, one);
    readiness_of(other, &t->line, READ_BEFORE, two_);
    for (size_t i = 0; i < t->line.steps; i++)
        ASSERT_NEAR(one[i], two_[i], 1e-12);
}

/* Growth 0 is the two-component kind, growth 1 the variable-dose kind with k3 =
 * k1 ratio (1 - e^(-1/tau3))/mean. */
static void ends(void) {
    gsl_rng *rng = test_random(2385);
    ResponseParams none = graded(0, 245.5), all = graded(1, 245.5);
    ResponseParams linear = two(12.25, .385, .385 * 2.1, 39, 12);
    ResponseParams dose = busso(12.25);
    Track t;
    dose.value[PARAM_K1] = .385;
    dose.value[PARAM_TAU1] = 39;
    dose.value[PARAM_TAU2] = 12;
    dose.value[PARAM_TAU3] = 2.3;
    dose.value[PARAM_K3] = .385 * 2.1 * (1 - exp(-1 / 2.3)) / 245.5;
    for (int round = 0; round < 40; round++) {
        random_track(rng, 40, &t);
        compare(&none, &linear, &t);
        compare(&all, &dose, &t);
    }
    gsl_rng_free(rng);
}

/* Under a steady load of the mean a session's fatigue is ratio times its
 * fitness, whatever the growth: steady readiness is k1 w (A1 - ratio A2), A =
 * 1/(e^(1/tau) - 1). */
static void steady(void) {
    double load[30], readiness[30], w = 245.5;
    double wanted =
        12.25 + .385 * w * (1 / (exp(1 / 39.) - 1) - 2.1 / (exp(1 / 12.) - 1));
    Timeline line = {30, NULL, load, w, 1};
    for (int i = 0; i < 30; i++)
        load[i] = w;
    for (double growth = 0; growth <= 1; growth += .125) {
        ResponseParams p = graded(growth, w);
        readiness_of(&p, &line, READ_BEFORE, readiness);
        for (int i = 0; i < 30; i++)
            ASSERT_NEAR(readiness[i], wanted, 1e-10);
    }
}

/* Loads, and the mean with them, in another unit: the same fatigue for each
 * part of fitness. */
static void unit_of_load(void) {
    gsl_rng *rng = test_random(1105);
    for (int round = 0; round < 20; round++) {
        double growth = test_between(rng, 0, 1);
        ResponseParams p = graded(growth, 245.5), other = graded(growth, 2455);
        double one[STEPS_MOST], ten[STEPS_MOST];
        Track t;
        random_track(rng, 35, &t);
        readiness_of(&p, &t.line, READ_BEFORE, one);
        for (int i = 0; i < 35; i++)
            t.load[i] *= 10;
        t.line.before *= 10;
        readiness_of(&other, &t.line, READ_BEFORE, ten);
        for (int i = 0; i < 35; i++)
            ASSERT_NEAR(ten[i] - 12.25, 10 * (one[i] - 12.25), 1e-11);
    }
    gsl_rng_free(rng);
}

/* A mean of 0 lets nothing grow. */
static void no_load(void) {
    ResponseParams p = graded(.75, 0);
    ASSERT_NEAR(p.value[PARAM_K2], .385 * 2.1 * .25, 1e-15);
    CU_ASSERT_EQUAL(p.value[PARAM_K3], 0);
}

/* dx/dt = -x/tau for fitness, fatigue and the recent load. */
static int fade(double time, const double *x, double *change, void *data) {
    const double *tau = data;
    (void)time;
    for (int i = 0; i < 3; i++)
        change[i] = -x[i] / tau[i];
    return GSL_SUCCESS;
}

/* Sessions are jumps: fitness by k1 w, the recent load by w, fatigue by k1 w
 * ratio [(1 - g) + g M/mean of M]. */
static void compare_ode(double growth, const Track *t) {
    ResponseParams p = graded(growth, 245.5);
    double tau[3] = {39, 12, 2.3}, x[3] = {0, 0, 0}, time = 0;
    double usual = 245.5 / (1 - exp(-1 / 2.3));
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    gsl_odeiv2_system equations = {fade, NULL, 3, tau};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(
        &equations, gsl_odeiv2_step_rk8pd, .01, 1e-10, 1e-12);
    kernel_run(&p, &t->line, READ_BEFORE, fitness, fatigue);
    for (size_t i = 0; i < t->line.steps; i++) {
        double until = time + (i == 0 ? 0 : t->line.gap ? t->gap[i] : 1);
        if (until > time)
            CU_ASSERT_EQUAL(gsl_odeiv2_driver_apply(driver, &time, until, x),
                            GSL_SUCCESS);
        ASSERT_NEAR(fitness[i], x[0], 1e-8);
        ASSERT_NEAR(fatigue[i], x[1], 1e-8);
        x[0] += .385 * t->load[i];
        x[2] += t->load[i];
        x[1] +=
            .385 * t->load[i] * 2.1 * ((1 - growth) + growth * x[2] / usual);
        gsl_odeiv2_driver_reset(driver);
    }
    gsl_odeiv2_driver_free(driver);
}

static void ode(void) {
    gsl_rng *rng = test_random(1901);
    Track t;
    test_evidence("GSL, ODE integrator (Prince-Dormand, adaptive)",
                  "graded kind: fitness and fatigue at odd clock times");
    for (int round = 0; round < 25; round++) {
        random_track(rng, 30, &t);
        t.line.before = 0;
        compare_ode(round / 24., &t);
    }
    gsl_rng_free(rng);
}

/* Sets of one kind side by side, growths mixed. */
static void batch(void) {
    gsl_rng *rng = test_random(77);
    ResponseParams p[21];
    double together[21 * 40], fitness[STEPS_MOST], fatigue[STEPS_MOST];
    Track t;
    for (int s = 0; s < 21; s++)
        p[s] = any_of_kind(rng, RESPONSE_GRADED);
    p[3].value[PARAM_GROWTH] = 0;
    response_settle(&p[3], 300);
    random_track(rng, 40, &t);
    kernel_batch(21, p, &t.line, READ_BEFORE, together);
    for (int s = 0; s < 21; s++) {
        kernel_run(&p[s], &t.line, READ_BEFORE, fitness, fatigue);
        for (int i = 0; i < 40; i++)
            ASSERT_NEAR(together[i * 21 + s],
                        p[s].value[PARAM_P0] + fitness[i] - fatigue[i], 1e-12);
    }
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"graded_ends", ends},
                                 {"graded_steady", steady},
                                 {"graded_unit", unit_of_load},
                                 {"graded_no_load", no_load},
                                 {"graded_ode", ode},
                                 {"graded_batch", batch},
                                 {NULL, NULL}};

const TestSuite suite_response_graded = {"response", cases};
