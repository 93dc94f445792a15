/* landmarks: days by their definitions, and what a load does at each age.
 *
 * Check values stand beside their source and its status: P read in the
 * publication, M from memory, C computed from the formula by an independent
 * program (R or C). Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"
#include "tracks.h"

#include "response/kernel.h"
#include "response/landmarks.h"

#include <gsl/gsl_rng.h>
#include <math.h>

/* Classic set: Fitz-Clarke, Morton, Banister 1991 say about 16 and 40 d (M);
 * decimals C. Runners: k2/k1 1.8, tau 50 and 11, decimals C. */
static void test_landmarks(void) {
    test_evidence("Fitz-Clarke, Morton, Banister 1991, closed forms in R",
                  "t_n, t_g and half-lives");
    ResponseParams p = classic(500), runners = two(0, 1, 1.8, 50, 11);
    Landmarks m = landmarks_of(&p);
    ASSERT_NEAR(m.t_n, 15.595812, 1e-7);
    ASSERT_NEAR(m.t_g, 40.314588, 1e-7);
    ASSERT_NEAR(m.half_life_fitness, 31.19162312519754, 1e-13);
    ASSERT_NEAR(m.half_life_fatigue, 10.39720770839918, 1e-13);
    m = landmarks_of(&runners);
    ASSERT_NEAR(m.t_n, 8.289299, 1e-7);
    ASSERT_NEAR(m.t_g, 29.642383, 1e-7);
}

static void test_no_landmarks(void) {
    ResponseParams weak = two(0, 2.385, 2.384, 41.5, 12.25);
    ResponseParams even = two(0, 2.385, 2.385, 41.5, 12.25);
    ResponseParams slight = two(0, 2.385, .1, 41.5, 12.25);
    ResponseParams alone = one(0, 2.385, 41.5);
    Landmarks m = landmarks_of(&weak);
    CU_ASSERT(isnan(m.t_n));
    CU_ASSERT(m.t_g > 0);
    CU_ASSERT(isnan(landmarks_of(&even).t_n));
    CU_ASSERT(isnan(landmarks_of(&slight).t_n));
    CU_ASSERT(isnan(landmarks_of(&slight).t_g));
    m = landmarks_of(&alone);
    CU_ASSERT(isnan(m.t_n));
    CU_ASSERT(isnan(m.t_g));
    CU_ASSERT(isnan(m.half_life_fatigue));
    ASSERT_NEAR(m.half_life_fitness, 41.5 * M_LN2, 1e-14);
}

static double slope(const ResponseParams *p, double age) {
    const double *v = p->value;
    return -v[PARAM_K1] / v[PARAM_TAU1] * exp(-age / v[PARAM_TAU1]) +
           v[PARAM_K2] / v[PARAM_TAU2] * exp(-age / v[PARAM_TAU2]);
}

/* By their definitions: no influence at t_n, with harm before and help after;
 * no slope at t_g. */
static void test_landmarks_definition(void) {
    gsl_rng *rng = test_random(2385);
    for (int i = 0; i < 5000; i++) {
        double tau2 = test_between(rng, 1, 40), k1 = test_between(rng, .01, 4);
        ResponseParams p = two(0, k1, k1 * test_between(rng, 1.01, 5),
                               tau2 * test_between(rng, 1.1, 6), tau2);
        Landmarks m = landmarks_of(&p);
        double k2 = p.value[PARAM_K2];
        ASSERT_NEAR(kernel_influence(&p, m.t_n) / k2, 0, 1e-12);
        CU_ASSERT(kernel_influence(&p, m.t_n * .99) < 0);
        CU_ASSERT(kernel_influence(&p, m.t_n * 1.01) > 0);
        ASSERT_NEAR(slope(&p, m.t_g) * tau2 / k2, 0, 1e-12);
        CU_ASSERT(kernel_influence(&p, m.t_g * .99) <
                  kernel_influence(&p, m.t_g));
        CU_ASSERT(kernel_influence(&p, m.t_g * 1.01) <
                  kernel_influence(&p, m.t_g));
    }
    gsl_rng_free(rng);
}

/* Calvert et al. 1976 (form P, numbers M): (e^(-t/50) - e^(-t/5)) -
 * 2 e^(-t/15). */
static void test_influence_delayed(void) {
    ResponseParams p = {RESPONSE_DELAYED, {0, 1, 2, 50, 15, 5, NAN, NAN}};
    for (int day = 1; day <= 200; day++)
        ASSERT_NEAR(kernel_influence(&p, day),
                    exp(-day / 50.0) - exp(-day / 5.0) - 2 * exp(-day / 15.0),
                    1e-14);
}

/* The landmarks of the delayed kind by their definitions, and no day of harm
 * beyond t_n; none for variable dose. */
static void check_delayed(const ResponseParams *p) {
    Landmarks m = landmarks_of(p);
    double best = kernel_influence(p, m.t_g), size = p->value[PARAM_K2];
    bool harm = false, better = false;
    ASSERT_NEAR(kernel_influence(p, m.t_n) / size, 0, 1e-9);
    CU_ASSERT(kernel_influence(p, m.t_n - .01) < 0);
    for (double age = m.t_n + .01; age < 400; age += .25) {
        harm = harm || kernel_influence(p, age) <= 0;
        better = better || kernel_influence(p, age) > best * (1 + 1e-9);
    }
    CU_ASSERT_FALSE(harm);
    CU_ASSERT_FALSE(better);
}

static void test_landmarks_delayed(void) {
    gsl_rng *rng = test_random(2386);
    ResponseParams dose = busso(250);
    for (int i = 0; i < 300; i++) {
        double tau1 = test_between(rng, 30, 60), k1 = test_between(rng, .1, 2);
        ResponseParams p = {RESPONSE_DELAYED,
                            {0, k1, k1 * test_between(rng, .3, 3), tau1,
                             tau1 * test_between(rng, .1, .5),
                             tau1 * test_between(rng, .03, .5), NAN, NAN}};
        check_delayed(&p);
    }
    CU_ASSERT(isnan(landmarks_of(&dose).t_n));
    CU_ASSERT(isnan(landmarks_of(&dose).t_g));
    gsl_rng_free(rng);
}

/* Values C. */
static void test_influence(void) {
    test_evidence("Fitz-Clarke, Morton, Banister 1991, formula in R",
                  "influence of a load 1 to 40 days old");
    static const struct {
        double age, wanted;
    } rows[] = {{1, -.892991}, {2, -.793818},  {3, -.701955}, {4, -.616909},
                {5, -.538223}, {15, -.019228}, {16, .012476}};
    ResponseParams p = classic(500);
    int best = 1;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ASSERT_NEAR(kernel_influence(&p, rows[i].age), rows[i].wanted, 5.1e-7);
    for (int day = 1; day <= 200; day++) {
        CU_ASSERT_EQUAL(kernel_influence(&p, day) > 0, day >= 16);
        if (kernel_influence(&p, day) > kernel_influence(&p, best))
            best = day;
    }
    CU_ASSERT_EQUAL(best, 40);
    ASSERT_NEAR(kernel_influence(&p, 40), .2721453881, 2e-10);
}

static void test_influence_of_later_loads(void) {
    ResponseParams p = classic(500), alone = one(3, 2.385, 41.5);
    static const double ages[] = {0, -1e-9, -.25, -1, -400};
    for (size_t i = 0; i < sizeof ages / sizeof ages[0]; i++) {
        CU_ASSERT_EQUAL(kernel_influence(&p, ages[i]), 0);
        CU_ASSERT_EQUAL(kernel_influence(&alone, ages[i]), 0);
    }
    ASSERT_NEAR(kernel_influence(&p, 1e-9), -1, 1e-8);
}

/* Readiness is p0 + the sum of load x influence. */
static void test_influence_sums(void) {
    gsl_rng *rng = test_random(17);
    double readiness[STEPS_MOST];
    Track t;
    for (int round = 0; round < 300; round++) {
        ResponseParams p = any_params(rng);
        double sum = p.value[PARAM_P0], age = 0, size = fabs(sum);
        random_track(rng, 60, &t);
        t.line.before = 0;
        readiness_of(&p, &t.line, READ_BEFORE, readiness);
        for (size_t i = 59; i-- > 0;) {
            double part;
            age += t.line.gap ? t.gap[i + 1] : 1;
            part = t.load[i] * kernel_influence(&p, age);
            /* at the same moment the kernel has taken up the earlier step */
            if (age <= 0)
                part = t.load[i] *
                       (value_of(&p, PARAM_K1) - value_of(&p, PARAM_K2));
            sum += part;
            size += fabs(part);
        }
        CU_ASSERT(fabs(readiness[59] - sum) <= 1e-11 * size);
    }
    gsl_rng_free(rng);
}

static const TestCase cases[] = {
    {"landmarks", test_landmarks},
    {"no_landmarks", test_no_landmarks},
    {"landmarks_definition", test_landmarks_definition},
    {"landmarks_delayed", test_landmarks_delayed},
    {"influence", test_influence},
    {"influence_delayed", test_influence_delayed},
    {"influence_of_later_loads", test_influence_of_later_loads},
    {"influence_sums", test_influence_sums},
    {NULL, NULL}};

const TestSuite suite_response_landmarks = {"response", cases};
