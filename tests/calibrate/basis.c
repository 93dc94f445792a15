/* basis: columns and slopes of every kind, beside the kernel.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

enum { BASIS_TESTS = 40 };

/* Uneven gaps, several steps at one moment, several tests at one step. */
static void random_track(gsl_rng *rng, Athlete *a) {
    athlete_start(a, 90 + gsl_rng_uniform_int(rng, 90), BASIS_TESTS);
    random_loads(rng, a);
    if (gsl_rng_uniform(rng) < .8) {
        a->data.timeline.gap = a->gap;
        a->data.timeline.before_age = test_between(rng, .1, 1.9);
    }
    for (size_t i = 0; i < a->data.timeline.steps; i++)
        a->gap[i] = gsl_rng_uniform(rng) < .3 ? 0 : test_between(rng, .02, 2.5);
    for (size_t i = 0; i < BASIS_TESTS; i++) {
        a->step[i] = i / 2 * a->data.timeline.steps / (BASIS_TESTS / 2);
        a->when[i] = gsl_rng_uniform(rng) < .5 ? READ_BEFORE : READ_AFTER;
    }
}

static void random_taus(ResponseKind kind, gsl_rng *rng, double *taus) {
    taus[1] = test_between(rng, 1.2, 40);
    taus[0] = taus[1] * test_between(rng, 1.05, 5);
    taus[2] = kind == RESPONSE_DELAYED ? taus[0] * test_between(rng, .05, .9)
                                       : test_between(rng, .6, 20);
}

static void check_columns(const ResponseParams *p, const Athlete *a,
                          const Basis *b) {
    double f[2][STEPS_MOST], g[2][STEPS_MOST];
    for (int when = 0; when < 2; when++)
        kernel_run(p, &a->data.timeline, (ReadWhen)when, f[when], g[when]);
    for (size_t i = 0; i < a->data.count; i++) {
        ASSERT_NEAR(b->fitness[i], f[a->when[i]][a->step[i]], 1e-11);
        if (p->kind != RESPONSE_ONE_COMPONENT)
            ASSERT_NEAR(b->fatigue[i], g[a->when[i]][a->step[i]], 1e-11);
    }
}

static void test_basis_agrees_with_kernel(void) {
    gsl_rng *rng = test_random(20101);
    static Athlete a;
    Basis b;
    basis_allocate(BASIS_TESTS, &b);
    for (int round = 0; round < (quick() ? 24 : 200); round++) {
        ResponseKind kind = (ResponseKind)(round % RESPONSE_GRADED);
        double taus[SHAPE_TAUS];
        ResponseParams p;
        random_track(rng, &a);
        random_taus(kind, rng, taus);
        p = unit_params(kind, taus);
        basis_run(kind, taus, &a.data, round % 3 == 0, &b);
        check_columns(&p, &a, &b);
    }
    basis_free(&b);
    gsl_rng_free(rng);
}

/* Many at once are the same to the last bit as one after another, in rows of
 * their own. */
static void check_many(ResponseKind kind, size_t count, const double *taus,
                       const Athlete *a) {
    static double fitness[20 * BASIS_TESTS], fatigue[20 * BASIS_TESTS];
    Basis b;
    basis_allocate(a->data.count, &b);
    basis_many(kind, count, taus, &a->data, fitness, fatigue);
    for (size_t n = 0; n < count; n++) {
        basis_run(kind, taus + n * SHAPE_TAUS, &a->data, false, &b);
        for (size_t i = 0; i < a->data.count; i++) {
            size_t at = n * a->data.count + i;
            CU_ASSERT(fitness[at] == b.fitness[i]);
            CU_ASSERT(kind == RESPONSE_ONE_COMPONENT ||
                      fatigue[at] == b.fatigue[i]);
        }
    }
    basis_free(&b);
}

static void test_basis_many(void) {
    gsl_rng *rng = test_random(20103);
    static Athlete a;
    for (int round = 0; round < (quick() ? 24 : 200); round++) {
        ResponseKind kind = (ResponseKind)(round % RESPONSE_GRADED);
        size_t count = 1 + gsl_rng_uniform_int(rng, 20);
        double taus[20 * SHAPE_TAUS];
        random_track(rng, &a);
        for (size_t n = 0; n < count; n++)
            random_taus(kind, rng, taus + n * SHAPE_TAUS);
        check_many(kind, count, taus, &a);
    }
    gsl_rng_free(rng);
}

/* One slope against the central difference; that of the second order in h is
 * off by some h^2 of the size of the column. */
static void check_slope(ResponseKind kind, const double *taus, int which,
                        const Athlete *a, const Basis *b) {
    static const double h = 1e-4;
    Basis low, high;
    double moved[SHAPE_TAUS];
    bool fitness = b->slope_is_fitness[which];
    basis_allocate(a->data.count, &low);
    basis_allocate(a->data.count, &high);
    memcpy(moved, taus, sizeof moved);
    moved[which] = taus[which] * exp(-h);
    basis_run(kind, moved, &a->data, false, &low);
    moved[which] = taus[which] * exp(h);
    basis_run(kind, moved, &a->data, false, &high);
    for (size_t i = 0; i < a->data.count; i++) {
        double up = fitness ? high.fitness[i] : high.fatigue[i];
        double down = fitness ? low.fitness[i] : low.fatigue[i];
        double wanted = (up - down) / (2 * h);
        double size = fabs(wanted) + fabs(up) + 1;
        ASSERT_NEAR(b->slope[which][i] / size, wanted / size, 1e-6);
    }
    basis_free(&low);
    basis_free(&high);
}

static void test_basis_slopes(void) {
    gsl_rng *rng = test_random(20102);
    static Athlete a;
    Basis b;
    basis_allocate(BASIS_TESTS, &b);
    for (int round = 0; round < (quick() ? 16 : 120); round++) {
        ResponseKind kind = (ResponseKind)(round % RESPONSE_GRADED);
        double taus[SHAPE_TAUS];
        Param which[SHAPE_TAUS];
        random_track(rng, &a);
        random_taus(kind, rng, taus);
        basis_run(kind, taus, &a.data, true, &b);
        for (int i = 0; i < basis_taus(kind, which); i++)
            check_slope(kind, taus, i, &a, &b);
    }
    basis_free(&b);
    gsl_rng_free(rng);
}

/* Which gains and time constants, in the order the header promises. */
static void test_basis_names(void) {
    Param t[SHAPE_TAUS];
    CU_ASSERT_EQUAL(basis_taus(RESPONSE_ONE_COMPONENT, t), 1);
    CU_ASSERT_EQUAL(t[0], PARAM_TAU1);
    CU_ASSERT_EQUAL(basis_taus(RESPONSE_TWO_COMPONENT, t), 2);
    CU_ASSERT(t[0] == PARAM_TAU1 && t[1] == PARAM_TAU2);
    CU_ASSERT_EQUAL(basis_taus(RESPONSE_DELAYED, t), 3);
    CU_ASSERT(t[0] == PARAM_TAU1 && t[1] == PARAM_TAU2 &&
              t[2] == PARAM_TAU_RISE);
    CU_ASSERT_EQUAL(basis_taus(RESPONSE_VARIABLE_DOSE, t), 3);
    CU_ASSERT(t[0] == PARAM_TAU1 && t[1] == PARAM_TAU2 && t[2] == PARAM_TAU3);
    CU_ASSERT_EQUAL(basis_fatigue_gain(RESPONSE_ONE_COMPONENT), PARAMS);
    CU_ASSERT_EQUAL(basis_fatigue_gain(RESPONSE_TWO_COMPONENT), PARAM_K2);
    CU_ASSERT_EQUAL(basis_fatigue_gain(RESPONSE_DELAYED), PARAM_K2);
    CU_ASSERT_EQUAL(basis_fatigue_gain(RESPONSE_VARIABLE_DOSE), PARAM_K3);
}

static const TestCase cases[] = {
    {"basis_agrees_with_kernel", test_basis_agrees_with_kernel},
    {"basis_many", test_basis_many},
    {"basis_slopes", test_basis_slopes},
    {"basis_names", test_basis_names},
    {NULL, NULL}};

const TestSuite suite_calibrate_basis = {"calibrate", cases};
