/* response: tests of the kernel, the landmarks, the model files and the draws.
 *
 * Check values stand beside their source and its status: P read in the
 * publication, M from memory, C computed from the formula by an independent
 * program (R or C). Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"
#include "calibrate/draws.h"
#include "response/kernel.h"
#include "response/landmarks.h"
#include "response/model.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS_MOST = 400 };

/* ---- what the tests share ---- */

static ResponseParams two(double p0, double k1, double k2, double tau1,
                          double tau2) {
    return (ResponseParams){RESPONSE_TWO_COMPONENT,
                            {p0, k1, k2, tau1, tau2, NAN, NAN, NAN}};
}

static ResponseParams one(double p0, double k1, double tau1) {
    return (ResponseParams){RESPONSE_ONE_COMPONENT,
                            {p0, k1, NAN, tau1, NAN, NAN, NAN, NAN}};
}

/* Morton, Fitz-Clarke, Banister 1990 (M). */
static ResponseParams classic(double p0) {
    return two(p0, 1, 2, 45, 15);
}

static ResponseParams random_params(gsl_rng *rng) {
    double tau2 = test_between(rng, 1.2, 30);
    double tau1 = tau2 * test_between(rng, 1.05, 6);
    if (gsl_rng_uniform(rng) < .2)
        return one(test_between(rng, -900, 900), test_between(rng, 0, 3), tau1);
    return two(test_between(rng, -900, 900), test_between(rng, 0, 3),
               test_between(rng, 0, 5), tau1, tau2);
}

static ResponseParams random_kind(gsl_rng *rng, ResponseKind kind) {
    double tau2 = test_between(rng, 1.2, 30);
    double tau1 = tau2 * test_between(rng, 1.05, 6);
    ResponseParams p =
        two(test_between(rng, -900, 900), test_between(rng, 0, 3),
            test_between(rng, 0, 5), tau1, tau2);
    p.kind = kind;
    if (kind == RESPONSE_ONE_COMPONENT)
        return one(p.value[PARAM_P0], p.value[PARAM_K1], tau1);
    if (kind == RESPONSE_DELAYED)
        p.value[PARAM_TAU_RISE] = tau1 * test_between(rng, .05, .8);
    if (kind == RESPONSE_VARIABLE_DOSE) {
        p.value[PARAM_K2] = NAN;
        p.value[PARAM_K3] = test_between(rng, 1e-6, 1e-4);
        p.value[PARAM_TAU3] = test_between(rng, .5, 9);
    }
    return p;
}

static ResponseParams random_any(gsl_rng *rng) {
    return random_kind(rng,
                       (ResponseKind)gsl_rng_uniform_int(rng, RESPONSE_KINDS));
}

/* A timeline with its arrays. */
typedef struct {
    double gap[STEPS_MOST], load[STEPS_MOST];
    Timeline line;
} Track;

/* Kinds of gaps: daily, a few clock times, any, several at one moment. */
static double random_gap(gsl_rng *rng, int kind) {
    if (kind == 1)
        return (double)(1 + gsl_rng_uniform_int(rng, 3)) / 4;
    if (kind == 2)
        return test_between(rng, 0, 3);
    return gsl_rng_uniform(rng) < .3 ? 0 : test_between(rng, .01, 2.5);
}

static void random_track(gsl_rng *rng, size_t steps, Track *t) {
    int kind = (int)gsl_rng_uniform_int(rng, 4);
    t->line = (Timeline){steps, kind ? t->gap : NULL, t->load, 0, 1};
    for (size_t i = 0; i < steps; i++) {
        t->gap[i] = random_gap(rng, kind);
        t->load[i] =
            gsl_rng_uniform(rng) < .35 ? 0 : test_between(rng, .5, 1250.75);
    }
    if (gsl_rng_uniform(rng) < .6)
        t->line.before = test_between(rng, 1, 800);
    if (kind && gsl_rng_uniform(rng) < .6)
        t->line.before_age = test_between(rng, .1, 1.9);
}

static double value_of(const ResponseParams *p, Param param) {
    return isfinite(p->value[param]) ? p->value[param] : 0;
}

/* The two sums written out, one term a load: fitness and fatigue at step i. */
typedef struct {
    double fitness, fatigue;
} Pair;

static double decay(double age, double tau) {
    return exp(-age / tau);
}

/* Time of each step since the first [d]. */
static void times_of(const Track *t, double *time) {
    for (size_t i = 0; i < t->line.steps; i++)
        time[i] = i == 0 ? 0 : time[i - 1] + (t->line.gap ? t->gap[i] : 1);
}

/* Sum of a steady load a day before the first step, the last `age` days ago,
 * as long as it counts. */
static double past_sum(const Track *t, double age, double tau) {
    double sum = 0, more = 1;
    for (int day = 0; t->line.before > 0 && more > 1e-17 * sum; day++) {
        more = t->line.before * decay(age + t->line.before_age + day, tau);
        sum += more;
    }
    return sum;
}

/* Loads up to step `last`, faded until step `i`, and those before. */
static double load_sum(const Track *t, const double *time, size_t i,
                       size_t count, double tau) {
    double sum = past_sum(t, time[i], tau);
    for (size_t j = 0; j < count; j++)
        sum += t->load[j] * decay(time[i] - time[j], tau);
    return sum;
}

/* Busso 2003: each load times the recent loads, its own among them. */
static double dose_sum(const ResponseParams *p, const Track *t,
                       const double *time, size_t i, size_t count) {
    double tau2 = p->value[PARAM_TAU2], tau3 = p->value[PARAM_TAU3], sum;
    sum = past_sum(t, time[i], tau2) * t->line.before / (1 - exp(-1 / tau3));
    for (size_t j = 0; j < count; j++)
        sum += t->load[j] * load_sum(t, time, j, j + 1, tau3) *
               decay(time[i] - time[j], tau2);
    return sum;
}

static Pair direct(const ResponseParams *p, const Track *t, size_t i,
                   ReadWhen when) {
    const double *v = p->value;
    size_t count = when == READ_AFTER ? i + 1 : i;
    double time[STEPS_MOST];
    Pair sum = {0, 0};
    times_of(t, time);
    sum.fitness = v[PARAM_K1] * load_sum(t, time, i, count, v[PARAM_TAU1]);
    if (p->kind == RESPONSE_DELAYED)
        sum.fitness -=
            v[PARAM_K1] * load_sum(t, time, i, count, v[PARAM_TAU_RISE]);
    if (p->kind == RESPONSE_VARIABLE_DOSE)
        sum.fatigue = v[PARAM_K3] * dose_sum(p, t, time, i, count);
    else if (p->kind != RESPONSE_ONE_COMPONENT)
        sum.fatigue = v[PARAM_K2] * load_sum(t, time, i, count, v[PARAM_TAU2]);
    return sum;
}

static void readiness_of(const ResponseParams *p, const Timeline *line,
                         ReadWhen when, double *readiness) {
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    kernel_run(p, line, when, fitness, fatigue);
    for (size_t i = 0; i < line->steps; i++)
        readiness[i] = p->value[PARAM_P0] + fitness[i] - fatigue[i];
}

/* ---- published series ---- */

static void check_series(ReadWhen when, const double *wanted) {
    static const double load[] = {100, 0, 50, 0, 0, 0, 0, 0};
    Timeline line = {8, NULL, load, 0, 1};
    ResponseParams p = classic(500);
    double readiness[STEPS_MOST];
    readiness_of(&p, &line, when, readiness);
    for (size_t i = 0; i < 8; i++)
        ASSERT_NEAR(readiness[i], wanted[i], 1e-11);
}

/* The sum to n-1 of Busso, Candau, Lacour 1994 (P), values C. */
static void test_series_before(void) {
    test_evidence("Busso, Candau, Lacour 1994, sum to n-1",
                  "readiness of eight days, two components");
    static const double wanted[] = {500,           410.700890242, 420.618210102,
                                    385.154993009, 398.618160251, 411.079943510,
                                    422.607850297, 433.264970070};
    check_series(READ_BEFORE, wanted);
}

/* The sum to n of Morton, Fitz-Clarke, Banister 1990 (M), values C. */
static void test_series_after(void) {
    test_evidence("Morton, Fitz-Clarke, Banister 1990, sum to n",
                  "readiness of eight days, two components");
    static const double wanted[] = {400,           410.700890242, 370.618210102,
                                    385.154993009, 398.618160251, 411.079943510,
                                    422.607850297, 433.264970070};
    check_series(READ_AFTER, wanted);
}

/* Variable dose, Busso 2003's means (M), p0 250, values C; and the sum written
 * out. */
static ResponseParams busso(double p0) {
    return (ResponseParams){RESPONSE_VARIABLE_DOSE,
                            {p0, .031, NAN, 30.8, 16.8, NAN, .000035, 2.3}};
}

static void test_series_variable_dose(void) {
    test_evidence("Busso 2003, its double sum",
                  "readiness of eight days, variable dose");
    static const double load[] = {100, 0, 120, 0, 140, 100, 0, 0};
    static const double wanted[] = {250,           252.671192442, 252.594379839,
                                    255.479950106, 255.329009367, 258.423177739,
                                    260.427712275, 260.158119860};
    Timeline line = {8, NULL, load, 0, 1};
    ResponseParams p = busso(250);
    double readiness[STEPS_MOST];
    readiness_of(&p, &line, READ_BEFORE, readiness);
    for (size_t i = 0; i < 8; i++)
        ASSERT_NEAR(readiness[i], wanted[i], 1e-11);
}

/* Under steady loads readiness is a parabola in the load; its vertex is
 * k1 A1/(2 k3 B3 A2), 290.2024 a day for Busso 2003's means (C). */
static void test_best_steady_load(void) {
    static const double load[] = {0};
    ResponseParams p = busso(260);
    double y[3], middle = 270, step = 60, best;
    test_evidence("Busso 2003, closed form by another program",
                  "the best steady load, variable dose");
    for (int i = 0; i < 3; i++) {
        Timeline line = {1, NULL, load, middle + (i - 1) * step, 1};
        readiness_of(&p, &line, READ_BEFORE, &y[i]);
    }
    best = middle + step * (y[0] - y[2]) / (2 * (y[0] - 2 * y[1] + y[2]));
    test_evidence_reached(fabs(best - 290.2024), 5.1e-5);
    CU_ASSERT(fabs(best - 290.2024) <= 5.1e-5);
}

/* 28 days at 100, then what `rest_of` says; the reading before the sessions
 * of days 29, 42 and 43. */
static void check_taper(double (*rest_of)(int day), const double wanted[3]) {
    double load[43], readiness[STEPS_MOST];
    Timeline line = {43, NULL, load, 0, 1};
    ResponseParams p = classic(0);
    for (int day = 1; day <= 43; day++)
        load[day - 1] = day <= 28 ? 100 : rest_of(day - 28);
    readiness_of(&p, &line, READ_BEFORE, readiness);
    for (int i = 0; i < 3; i++) { /* the figures have six decimals */
        double apart = fabs(readiness[i ? 40 + i : 28] - wanted[i]);
        test_evidence_reached(apart, 5.1e-7);
        CU_ASSERT(apart <= 5.1e-7);
    }
}

static double go_on(int day) {
    (void)day;
    return 100;
}

static double rest(int day) {
    (void)day;
    return 0;
}

static double half(int day) {
    (void)day;
    return 50;
}

static double fall(int day) {
    return 100 * exp(-day / 4.0);
}

/* Values C; the order of the last three is that of Banister, Carter, Zarkadas
 * 1999, Eur J Appl Physiol 79:182-191 (P). */
static void test_tapers(void) {
    test_evidence("Banister, Carter, Zarkadas 1999, sum by another program",
                  "readiness after three tapers and none");
    check_taper(go_on, (double[]){-390.941449, -51.665191, -24.503131});
    check_taper(rest, (double[]){-390.941449, 513.390917, 545.937874});
    check_taper(half, (double[]){-390.941449, 230.862863, 260.717372});
    check_taper(fall, (double[]){-390.941449, 430.155589, 476.920373});
}

/* ---- landmarks and influence ---- */

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
        ResponseParams p = random_params(rng);
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

/* ---- the kernel against other ways to compute it ---- */

static void compare_direct(const ResponseParams *p, const Track *t,
                           ReadWhen when) {
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    kernel_run(p, &t->line, when, fitness, fatigue);
    for (size_t i = 0; i < t->line.steps; i += 1 + t->line.steps / 7) {
        Pair sum = direct(p, t, i, when);
        ASSERT_NEAR(fitness[i], sum.fitness, 1e-11);
        ASSERT_NEAR(fatigue[i], sum.fatigue, 1e-11);
    }
}

static void test_convolution(void) {
    gsl_rng *rng = test_random(4711);
    Track t;
    for (int round = 0; round < 1500; round++) {
        ResponseParams p = random_any(rng);
        random_track(rng, 1 + gsl_rng_uniform_int(rng, 60), &t);
        compare_direct(&p, &t, round % 2 ? READ_AFTER : READ_BEFORE);
    }
    gsl_rng_free(rng);
}

/* dx/dt = -x/tau for both components. */
static int fade(double time, const double *x, double *change, void *data) {
    const double *tau = data;
    (void)time;
    change[0] = -x[0] / tau[0];
    change[1] = -x[1] / tau[1];
    return GSL_SUCCESS;
}

/* The differential equations between the sessions, which are jumps. */
static void compare_ode(const ResponseParams *p, const Track *t) {
    double tau[2] = {p->value[PARAM_TAU1], p->value[PARAM_TAU2]};
    double fitness[STEPS_MOST], fatigue[STEPS_MOST], x[2] = {0, 0}, time = 0;
    gsl_odeiv2_system equations = {fade, NULL, 2, tau};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(
        &equations, gsl_odeiv2_step_rk8pd, .01, 1e-10, 1e-12);
    kernel_run(p, &t->line, READ_BEFORE, fitness, fatigue);
    for (size_t i = 0; i < t->line.steps; i++) {
        double until = time + (i == 0 ? 0 : t->line.gap ? t->gap[i] : 1);
        if (until > time)
            CU_ASSERT_EQUAL(gsl_odeiv2_driver_apply(driver, &time, until, x),
                            GSL_SUCCESS);
        ASSERT_NEAR(fitness[i], p->value[PARAM_K1] * x[0], 1e-8);
        ASSERT_NEAR(fatigue[i], p->value[PARAM_K2] * x[1], 1e-8);
        x[0] += t->load[i];
        x[1] += t->load[i];
        gsl_odeiv2_driver_reset(driver);
    }
    gsl_odeiv2_driver_free(driver);
}

static void test_ode(void) {
    test_evidence("GSL, ODE integrator (Prince-Dormand, adaptive)",
                  "fitness and fatigue at odd clock times");
    gsl_rng *rng = test_random(1901);
    Track t;
    for (int round = 0; round < 60; round++) {
        ResponseParams p = random_params(rng);
        if (p.kind != RESPONSE_TWO_COMPONENT)
            continue;
        random_track(rng, 30, &t);
        t.line.before = 0;
        compare_ode(&p, &t);
    }
    gsl_rng_free(rng);
}

/* Sessions at 06:30, 17:45 on one day and 09:15 two days later, read at 12:00
 * of the third day after. */
static void test_clock_times(void) {
    Track t = {{0, 11.25 / 24, 39.5 / 24, 74.75 / 24},
               {238.5, 411.25, 95.75, 0},
               {4, NULL, NULL, 0, 1}};
    ResponseParams p = two(31.5, .085, .19, 38.5, 9.75);
    double readiness[STEPS_MOST], wanted = 31.5;
    t.line.gap = t.gap;
    t.line.load = t.load;
    readiness_of(&p, &t.line, READ_BEFORE, readiness);
    wanted += 238.5 *
              (.085 * exp(-125.5 / 24 / 38.5) - .19 * exp(-125.5 / 24 / 9.75));
    wanted += 411.25 * (.085 * exp(-114.25 / 24 / 38.5) -
                        .19 * exp(-114.25 / 24 / 9.75));
    wanted += 95.75 *
              (.085 * exp(-74.75 / 24 / 38.5) - .19 * exp(-74.75 / 24 / 9.75));
    ASSERT_NEAR(readiness[3], wanted, 1e-12);
    compare_ode(&p, &t);
}

static const char lfilter_script[] =
    "import sys, numpy as np\n"
    "from scipy.signal import lfilter\n"
    "x = np.array(open(sys.argv[1]).read().split(), float)\n"
    "p0, k1, k2, t1, t2 = x[:5]\n"
    "w = x[5:]\n"
    "a, b = np.exp(-1 / t1), np.exp(-1 / t2)\n"
    "before = p0 + k1 * lfilter([0, a], [1, -a], w) \\\n"
    "    - k2 * lfilter([0, b], [1, -b], w)\n"
    "after = p0 + k1 * lfilter([1], [1, -a], w) \\\n"
    "    - k2 * lfilter([1], [1, -b], w)\n"
    "for v in list(before) + list(after):\n"
    "    print('%.17g' % v)\n";

/* A recursive filter of SciPy: `before` is the same with a delay of a day. */
static void test_lfilter(void) {
    test_evidence("SciPy, signal.lfilter",
                  "readiness of 300 days, before and after");
    enum { DAYS = 300 };
    gsl_rng *rng = test_random(88);
    ResponseParams p = two(512.5, .93, 2.17, 47.25, 8.5);
    double load[DAYS], readiness[2][STEPS_MOST];
    Timeline line = {DAYS, NULL, load, 0, 1};
    Text data = {0};
    char *out, *at;
    const char *words[] = {NULL, NULL};
    for (int i = 0; i < 5; i++)
        text_add(&data, "%.17g\n", p.value[i]);
    for (int i = 0; i < DAYS; i++) {
        load[i] = gsl_rng_uniform(rng) < .3 ? 0 : test_between(rng, 10, 900);
        text_add(&data, "%.17g\n", load[i]);
    }
    test_folder();
    words[0] = test_file(0, "data.txt", text_of(&data));
    at = out = test_python(lfilter_script, words);
    readiness_of(&p, &line, READ_BEFORE, readiness[0]);
    readiness_of(&p, &line, READ_AFTER, readiness[1]);
    for (int i = 0; i < 2 * DAYS; i++) {
        char *end;
        double wanted = strtod(at, &end);
        CU_ASSERT_FATAL(end > at);
        ASSERT_NEAR(readiness[i / DAYS][i % DAYS], wanted, 1e-10);
        at = end;
    }
    free(out);
    text_free(&data);
    test_folder_done();
    gsl_rng_free(rng);
}

/* ---- closed forms and symmetries ---- */

/* Under a steady load for ever the state is w/(e^(1/tau) - 1) before the
 * sessions and w/(1 - e^(-1/tau)) after. */
static void test_steady(void) {
    double load[60], fitness[60], fatigue[60];
    const double w = 238.5;
    ResponseParams p = two(0, .85, 1.93, 43.5, 12.25);
    Timeline line = {60, NULL, load, 238.5, 1};
    for (int i = 0; i < 60; i++)
        load[i] = w;
    kernel_run(&p, &line, READ_BEFORE, fitness, fatigue);
    for (int i = 0; i < 60; i++) {
        ASSERT_NEAR(fitness[i], .85 * w / (exp(1 / 43.5) - 1), 1e-11);
        ASSERT_NEAR(fatigue[i], 1.93 * w / (exp(1 / 12.25) - 1), 1e-11);
    }
    kernel_run(&p, &line, READ_AFTER, fitness, fatigue);
    for (int i = 0; i < 60; i++) {
        ASSERT_NEAR(fitness[i], .85 * w / (1 - exp(-1 / 43.5)), 1e-11);
        ASSERT_NEAR(fatigue[i], 1.93 * w / (1 - exp(-1 / 12.25)), 1e-11);
    }
}

/* Steady training before the log is the same as many days of it in the log. */
static void test_before(void) {
    double load[STEPS_MOST] = {0}, long_run[STEPS_MOST], short_run[STEPS_MOST];
    ResponseParams p = two(77.5, .85, 1.93, 6.5, 2.25);
    Timeline whole = {400, NULL, load, 0, 1},
             tail = {40, NULL, load + 360, 0, 1};
    for (int i = 0; i < 360; i++) /* e^(-360/6.5) is 1e-24 */
        load[i] = 238.5;
    load[371] = 911.25;
    tail.before = 238.5;
    readiness_of(&p, &whole, READ_BEFORE, long_run);
    readiness_of(&p, &tail, READ_BEFORE, short_run);
    for (int i = 0; i < 40; i++)
        ASSERT_NEAR(short_run[i], long_run[360 + i], 1e-11);
}

/* An age of the last load before other than a day: it fades by as much. */
static void test_before_age(void) {
    static const double ages[] = {.2, .5, 1, 1.354166667, 2.75};
    static const double load[1] = {0};
    ResponseParams p = two(0, .85, 1.93, 43.5, 12.25);
    for (size_t i = 0; i < sizeof ages / sizeof ages[0]; i++) {
        double age = ages[i], fitness, fatigue;
        Timeline line = {1, NULL, load, 238.5, age};
        kernel_run(&p, &line, READ_BEFORE, &fitness, &fatigue);
        ASSERT_NEAR(fitness,
                    .85 * 238.5 * exp(-age / 43.5) / (1 - exp(-1 / 43.5)),
                    1e-12);
        ASSERT_NEAR(fatigue,
                    1.93 * 238.5 * exp(-age / 12.25) / (1 - exp(-1 / 12.25)),
                    1e-12);
    }
}

/* Nothing before and nothing done: readiness is p0. */
static void test_nothing(void) {
    static const double load[30] = {0};
    Timeline line = {30, NULL, load, 0, 1};
    ResponseParams p = two(-23.85, .85, 1.93, 43.5, 12.25);
    double readiness[STEPS_MOST];
    readiness_of(&p, &line, READ_AFTER, readiness);
    for (int i = 0; i < 30; i++)
        CU_ASSERT_EQUAL(readiness[i], -23.85);
}

/* Response to a + b is the sum of both responses; to c x a it is c times. */
static void test_superposition(void) {
    bool good;
    gsl_rng *rng = test_random(30);
    double a[STEPS_MOST], b[STEPS_MOST], both[STEPS_MOST];
    Track x, y;
    for (int round = 0; round < 500; round++) {
        ResponseParams p = random_params(rng);
        ReadWhen when = round % 2 ? READ_AFTER : READ_BEFORE;
        double c = test_between(rng, -2, 7);
        p.value[PARAM_P0] = 0;
        random_track(rng, 80, &x);
        y = x;
        y.line.gap = x.line.gap ? y.gap : NULL;
        y.line.load = y.load;
        for (int i = 0; i < 80; i++)
            y.load[i] = test_between(rng, 0, 500);
        y.line.before = test_between(rng, 0, 300);
        readiness_of(&p, &x.line, when, a);
        readiness_of(&p, &y.line, when, b);
        for (int i = 0; i < 80; i++)
            y.load[i] += c * x.load[i];
        y.line.before += c * x.line.before;
        readiness_of(&p, &y.line, when, both);
        good = true;
        for (int i = 0; i < 80; i++)
            good = good && (fabs(both[i] - (c * a[i] + b[i])) <=
                            1e-11 * (fabs(c) + 1) * 5e5);
        CU_ASSERT(good);
    }
    gsl_rng_free(rng);
}

/* Days without training before the log move everything by as many days. */
static void test_time_shift(void) {
    bool good;
    gsl_rng *rng = test_random(31);
    double plain[STEPS_MOST], shifted[STEPS_MOST];
    Track x, y;
    for (int round = 0; round < 500; round++) {
        ResponseParams p = random_any(rng);
        size_t days = 1 + gsl_rng_uniform_int(rng, 40);
        random_track(rng, 80, &x);
        x.line.before = 0;
        y.line = x.line;
        y.line.steps = 80 + days;
        y.line.gap = x.line.gap ? y.gap : NULL;
        y.line.load = y.load;
        for (size_t i = 0; i < 80 + days; i++) {
            y.gap[i] = i > days ? x.gap[i - days] : 1;
            y.load[i] = i >= days ? x.load[i - days] : 0;
        }
        readiness_of(&p, &x.line, READ_BEFORE, plain);
        readiness_of(&p, &y.line, READ_BEFORE, shifted);
        good = true;
        for (size_t i = 0; i < 80; i++)
            good = good && (shifted[days + i] == plain[i]);
        CU_ASSERT(good);
    }
    gsl_rng_free(rng);
}

/* Splitting a gap by readings without load changes nothing. */
static void test_reading_steps(void) {
    bool good;
    gsl_rng *rng = test_random(32);
    double plain[STEPS_MOST], split[STEPS_MOST];
    Track x, y;
    for (int round = 0; round < 300; round++) {
        ResponseParams p = random_any(rng);
        double size;
        random_track(rng, 60, &x);
        y.line = x.line;
        y.line.steps = 119;
        y.line.gap = y.gap;
        y.line.load = y.load;
        for (size_t i = 0; i < 119; i++) {
            double gap = x.line.gap ? x.gap[(i + 1) / 2] : 1;
            y.gap[i] = gap * (i % 2 ? .375 : .625);
            y.load[i] = i % 2 ? 0 : x.load[i / 2];
        }
        readiness_of(&p, &x.line, READ_AFTER, plain);
        readiness_of(&p, &y.line, READ_AFTER, split);
        size = 1e5 * (value_of(&p, PARAM_K1) + value_of(&p, PARAM_K2)) + 1e3;
        good = true;
        for (size_t i = 0; i < 60; i++)
            good = good && (fabs(split[2 * i] - plain[i]) <= 1e-12 * size);
        CU_ASSERT(good);
    }
    gsl_rng_free(rng);
}

/* Without fatigue it is 0, not -0, and readiness is the fitness above p0. */
static void test_one_component(void) {
    gsl_rng *rng = test_random(33);
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    Track t;
    for (int round = 0; round < 200; round++) {
        ResponseParams p =
            one(test_between(rng, -50, 50), test_between(rng, .1, 2),
                test_between(rng, 5, 60));
        random_track(rng, 40, &t);
        kernel_run(&p, &t.line, round % 2 ? READ_AFTER : READ_BEFORE, fitness,
                   fatigue);
        for (int i = 0; i < 40; i++) {
            CU_ASSERT_EQUAL(fatigue[i], 0);
            CU_ASSERT(!signbit(fatigue[i]));
        }
    }
    gsl_rng_free(rng);
}

/* No training: fatigue of the two-component kind is 0, not -0, too. */
static void test_no_negative_zero(void) {
    static const double load[3] = {0};
    double fitness[3], fatigue[3];
    Timeline line = {3, NULL, load, 0, 1};
    ResponseParams p = classic(0);
    kernel_run(&p, &line, READ_BEFORE, fitness, fatigue);
    for (int i = 0; i < 3; i++) {
        CU_ASSERT(!signbit(fitness[i]));
        CU_ASSERT(!signbit(fatigue[i]));
    }
}

/* ---- batch ---- */

enum { SETS_MOST = 70 };

static void compare_batch(size_t sets, const ResponseParams *p, const Track *t,
                          ReadWhen when) {
    static double readiness[SETS_MOST * STEPS_MOST + 1];
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    size_t steps = t->line.steps;
    bool good = true;
    readiness[sets * steps] = 2.385; /* must stay */
    kernel_batch(sets, p, &t->line, when, readiness);
    CU_ASSERT_EQUAL(readiness[sets * steps], 2.385);
    for (size_t s = 0; s < sets; s++) {
        kernel_run(&p[s], &t->line, when, fitness, fatigue);
        for (size_t i = 0; i < steps; i++) {
            double p0 = p[s].value[PARAM_P0];
            double size = fabs(p0) + fabs(fitness[i]) + fabs(fatigue[i]);
            double wanted = p0 + fitness[i] - fatigue[i];
            good = good && fabs(readiness[i * sets + s] - wanted) <=
                               1e-12 * fmax(1, size);
        }
    }
    CU_ASSERT(good);
}

/* Every count from 1 to 70, most of them no multiple of the 16 lanes. */
static void test_batch(void) {
    gsl_rng *rng = test_random(1601);
    ResponseParams p[SETS_MOST];
    Track t;
    for (size_t sets = 1; sets <= SETS_MOST; sets++) {
        /* the sets of a batch are of one kind */
        ResponseKind kind = (ResponseKind)(sets % RESPONSE_KINDS);
        for (size_t i = 0; i < sets; i++)
            p[i] = random_kind(rng, kind);
        for (int round = 0; round < 8; round++) {
            random_track(rng, 40, &t);
            compare_batch(sets, p, &t, READ_BEFORE);
            compare_batch(sets, p, &t, READ_AFTER);
        }
    }
    gsl_rng_free(rng);
}

/* A batch gives the same bytes wherever a set stands in it. */
static void test_batch_place(void) {
    bool good;
    gsl_rng *rng = test_random(1602);
    ResponseParams p[37];
    double apart[30], together[37 * 30];
    Track t;
    for (size_t i = 0; i < 37; i++)
        p[i] = two(3.25, test_between(rng, .1, 1), test_between(rng, .1, 2),
                   test_between(rng, 30, 60), test_between(rng, 5, 20));
    random_track(rng, 30, &t);
    kernel_batch(37, p, &t.line, READ_BEFORE, together);
    for (size_t s = 0; s < 37; s++) {
        kernel_batch(1, p + s, &t.line, READ_BEFORE, apart);
        good = true;
        for (size_t i = 0; i < 30; i++)
            good = good && (together[i * 37 + s] == apart[i]);
        CU_ASSERT(good);
    }
    gsl_rng_free(rng);
}

/* ---- model files ---- */

static const char head[] = "parameter,value,spread,unit,source\n";

/* Reads a text as a model file; the notes are the caller's. */
static bool read_text(const char *content, Model *model, Notes *notes) {
    *notes = (Notes){0};
    return model_read(test_file(0, "model.csv", content), model, notes);
}

static void test_model_read(void) {
    Model m;
    Notes notes;
    test_folder();
    CU_ASSERT(read_text("parameter,value,spread,unit,source\n"
                        "kind,two-component,,,invented for this test\n"
                        "tau2,12.25,0.4,d,\n"
                        "p0,61.5,,cm,\n"
                        "K1,0.0385,,cm per load,\n"
                        "k2,0.0731,0.25,cm per load,\n"
                        "tau1,43.5,0.3,d,\n",
                        &m, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_TWO_COMPONENT);
    CU_ASSERT_EQUAL(m.params.value[PARAM_P0], 61.5);
    CU_ASSERT_EQUAL(m.params.value[PARAM_K1], .0385);
    CU_ASSERT_EQUAL(m.params.value[PARAM_K2], .0731);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU1], 43.5);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU2], 12.25);
    CU_ASSERT(isnan(m.params.value[PARAM_TAU3]));
    CU_ASSERT_EQUAL(m.spread[PARAM_TAU2], .4);
    CU_ASSERT_EQUAL(m.spread[PARAM_K2], .25);
    CU_ASSERT(isnan(m.spread[PARAM_K1]));
    ASSERT_TEXT(m.source, "invented for this test");
    ASSERT_TEXT(m.unit, "cm");
    CU_ASSERT(m.scaled);
    CU_ASSERT(model_uncertain(&m));
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

/* A spreadsheet's file: semicolons, decimal commas, CRLF, byte-order mark,
 * columns in another order; a level of 0 has no percentages. */
static void test_model_spreadsheet(void) {
    Model m;
    Notes notes;
    test_folder();
    CU_ASSERT_FALSE(read_text("\xEF\xBB\xBFValue;Parameter;Unit\r\n"
                              "one-component;kind;\r\n"
                              "0;p0;cm\r\n"
                              "2,385;k1;\r\n"
                              "38,75;tau1;d\r\n",
                              &m, &notes));
    /* 2,385 may be 2385: it is refused, see base/number.h */
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'2,385', expected a number that "
                                             "reads one way only"));
    model_free(&m);
    notes_free(&notes);
    CU_ASSERT(read_text("\xEF\xBB\xBFValue;Parameter;Unit\r\n"
                        "one-component;kind;\r\n"
                        "0;p0;cm\r\n"
                        "2,3850;k1;\r\n"
                        "38,75;tau1;d\r\n",
                        &m, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_ONE_COMPONENT);
    CU_ASSERT_EQUAL(m.params.value[PARAM_K1], 2.385);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU1], 38.75);
    CU_ASSERT(!m.scaled);
    CU_ASSERT(!model_uncertain(&m));
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

/* One wrong file and what must be said of it. */
typedef struct {
    const char *content; /* below the usual heading, or whole with `whole` */
    const char *said;
    size_t line;        /* 0: about the whole file */
    const char *column; /* NULL: about none */
    bool whole;
} Refusal;

#define KIND "kind,two-component,,,\n"
#define GAINS "p0,500,,,\nk1,1,,,\nk2,2,,,\n"
#define TIMES "tau1,45,,d,\ntau2,15,,d,\n"

static const Refusal refusals[] = {
    {"kind,three-component,,,\n",
     "'three-component', expected two-component or one-component or delayed or "
     "variable-dose",
     2, "value", false},
    {"kind,,,,\n", "'', expected two-component or one-component or delayed", 2,
     "value", false},
    {"p0,500,,,\n" KIND, "'p0', expected the first row to say the kind", 2,
     "parameter", false},
    {KIND GAINS "tau1,45,,d,\n",
     "the parameter 'tau2' is missing, expected one row for it", 0, NULL,
     false},
    {KIND "k1,1,,,\nk2,2,,,\n" TIMES, "the parameter 'p0' is missing", 0, NULL,
     false},
    {KIND GAINS TIMES "tau1,44,,d,\n", "'tau1', expected each parameter once",
     8, "parameter", false},
    {KIND GAINS TIMES "tau3,2.3,,d,\n",
     "'tau3', expected only parameters of this kind of model", 8, "parameter",
     false},
    {"kind,one-component,,,\np0,500,,,\nk1,1,,,\ntau1,45,,d,\nk2,2,,,\n",
     "'k2', expected only parameters of this kind of model", 6, "parameter",
     false},
    {KIND GAINS TIMES "tau9,2.3,,d,\n",
     "'tau9', expected kind, p0, k1, k2, tau1, tau2, tau_rise, k3, tau3 or "
     "draws",
     8, "parameter", false},
    {KIND GAINS TIMES ",2.3,,d,\n", "'', expected kind, p0, k1", 8, "parameter",
     false},
    {KIND GAINS "tau1,15,,d,\ntau2,45,,d,\n",
     "tau1 '15' is not above tau2 '45', expected fitness to fade more slowly "
     "than fatigue",
     0, NULL, false},
    {"kind,delayed,,,\n" GAINS TIMES "tau_rise,46,,d,\n",
     "tau1 '45' is not above tau_rise '46', expected fitness to fade more "
     "slowly than it builds",
     0, NULL, false},
    {"kind,delayed,,,\n" GAINS TIMES,
     "the parameter 'tau_rise' is missing, expected one row for it", 0, NULL,
     false},
    {"kind,variable-dose,,,\n" GAINS TIMES "k3,0.00003,,,\ntau3,2,,d,\n",
     "'k2', expected only parameters of this kind of model", 5, "parameter",
     false},
    {KIND GAINS TIMES "draws,../other.csv,,,\n",
     "'../other.csv', expected the name of a file beside this one", 8, "value",
     false},
    {KIND GAINS TIMES "draws,,,,\n",
     "'', expected the name of a file beside this one", 8, "value", false},
    {KIND GAINS "tau1,15,,d,\ntau2,15,,d,\n", "is not above tau2 '15'", 0, NULL,
     false},
    {KIND GAINS "tau1,forty-five,,d,\ntau2,15,,d,\n",
     "'forty-five', expected a number", 6, "value", false},
    {KIND GAINS "tau1,,,d,\ntau2,15,,d,\n", "'', expected a number", 6, "value",
     false},
    {KIND GAINS "tau1,nan,,d,\ntau2,15,,d,\n", "'nan', expected a number", 6,
     "value", false},
    {KIND GAINS "tau1,1e999,,d,\ntau2,15,,d,\n",
     "'1e999', expected a number that a computer can hold", 6, "value", false},
    {KIND GAINS "tau1,\"45,5\",,d,\ntau2,15,,d,\n",
     "'45,5', expected a number with a decimal point", 6, "value", false},
    {KIND GAINS "tau1,1000.5,,d,\ntau2,15,,d,\n",
     "'1000.5', expected a number from 0.1 to 1000", 6, "value", false},
    {KIND GAINS "tau1,45,,d,\ntau2,0.05,,d,\n",
     "'0.05', expected a number from 0.1 to 1000", 7, "value", false},
    {KIND "p0,500,,,\nk1,-0.5,,,\nk2,2,,,\n" TIMES,
     "'-0.5', expected a number from 0 to 1e+09", 4, "value", false},
    {KIND "p0,500,,,\nk1,1,,,\nk2,-2,,,\n" TIMES,
     "'-2', expected a number from 0 to 1e+09", 5, "value", false},
    {KIND "p0,-1e10,,,\nk1,1,,,\nk2,2,,,\n" TIMES,
     "'-1e10', expected a number from -1e+09 to 1e+09", 3, "value", false},
    {KIND GAINS "tau1,45,-0.3,d,\ntau2,15,,d,\n",
     "'-0.3', expected a number from 0 to 3", 6, "spread", false},
    {KIND GAINS "tau1,45,3.5,d,\ntau2,15,,d,\n",
     "'3.5', expected a number from 0 to 3", 6, "spread", false},
    {KIND GAINS "tau1,45,wide,d,\ntau2,15,,d,\n", "'wide', expected a number",
     6, "spread", false},
    {KIND "p0,500,0.2,,\nk1,1,,,\nk2,2,,,\n" TIMES,
     "'0.2', expected no spread for p0, which is a level", 3, "spread", false},
    {KIND GAINS "tau1,45\ntau2,15,,d,\n", "this row has 2 cells", 6, NULL,
     false},
    {"", "has no rows, expected a first row 'kind'", 0, NULL, false},
    {"parameter,worth\nkind,two-component\n",
     "this column is missing, expected a model file with the columns "
     "parameter,value,spread,unit,source",
     1, "value", true},
    {"name,value\nkind,two-component\n", "this column is missing", 1,
     "parameter", true},
    {"", "is empty, expected a header row with column names", 0, NULL, true},
};

static void check_refusal(const Refusal *r) {
    Text content = {0};
    Model model;
    Notes notes;
    const Note *note;
    text_add(&content, "%s%s", r->whole ? "" : head, r->content);
    CU_ASSERT_FALSE(read_text(text_of(&content), &model, &notes));
    note = test_note(&notes, r->said);
    if (!note)
        ASSERT_HAS(notes.count ? notes.items[0].text : "", r->said);
    if (note) {
        CU_ASSERT_EQUAL(note->level, LEVEL_ERROR);
        CU_ASSERT_EQUAL(note->line, r->line);
        CU_ASSERT(r->column ? note->column != NULL : note->column == NULL);
        if (r->column && note->column)
            ASSERT_TEXT(note->column, r->column);
        ASSERT_HAS(note->file, "model.csv");
    }
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    model_free(&model);
    notes_free(&notes);
    text_free(&content);
}

static void test_model_errors(void) {
    test_folder();
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++)
        check_refusal(&refusals[i]);
    test_folder_done();
}

/* One run shows every problem. */
static void test_model_all_errors(void) {
    Model m;
    Notes notes;
    test_folder();
    CU_ASSERT_FALSE(read_text("parameter,value,spread,unit,source\n" KIND
                              "p0,high,,,\nk1,-1,,,\ntau1,45,-1,d,\n",
                              &m, &notes));
    CU_ASSERT_EQUAL(notes.errors, 3);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'high'"));
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'-1', expected a number from 0 "
                                             "to 1e+09"));
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'-1', expected a number from 0 "
                                             "to 3"));
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

static void test_model_missing_file(void) {
    Model m;
    Notes notes = {0};
    Text path = {0};
    text_add(&path, "%s/nowhere.csv", test_folder());
    CU_ASSERT_FALSE(model_read(text_of(&path), &m, &notes));
    CU_ASSERT_PTR_NOT_NULL(
        test_note(&notes, "cannot be opened: No such file or directory"));
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    model_free(&m);
    notes_free(&notes);
    text_free(&path);
    test_folder_done();
}

/* ---- models at hand ---- */

/* Every row of a shipped model says where it comes from. */
static void check_sources(const char *path) {
    char *content = test_read(path, NULL);
    size_t rows = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(content);
    for (char *line = strtok(content, "\n"); line; line = strtok(NULL, "\n")) {
        size_t commas = 0;
        const char *at = line;
        for (; *at && commas < 4; at++)
            commas += *at == ',';
        CU_ASSERT_EQUAL(commas, 4);
        CU_ASSERT(strlen(at) >= 5);
        rows++;
    }
    CU_ASSERT(rows >= 5);
    free(content);
}

static void check_shipped(const char *name) {
    Model m;
    Notes notes = {0};
    Text path = {0};
    text_add(&path, "models/%s.csv", name);
    CU_ASSERT(model_find(name, "models", &m, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    ASSERT_TEXT(m.name, name);
    CU_ASSERT(strlen(m.source) > 20);
    CU_ASSERT(m.params.value[PARAM_TAU1] > 0);
    check_sources(text_of(&path));
    model_free(&m);
    notes_free(&notes);
    text_free(&path);
}

static void test_shipped_models(void) {
    char **names = model_names("models");
    size_t count = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(names);
    for (; names[count]; count++) {
        check_shipped(names[count]);
        if (count)
            CU_ASSERT(strcmp(names[count - 1], names[count]) < 0);
    }
    CU_ASSERT(count >= 5);
    model_names_free(names);
    CU_ASSERT_PTR_NULL(model_names("models/no-such-folder"));
}

/* Figures of the publications, with their status. */
static void test_shipped_values(void) {
    static const struct {
        const char *name;
        double ratio, tau1, tau2; /* k2/k1, [d], [d]; 0: no fatigue */
    } rows[] = {
        {"classic", 2, 45, 15},      /* Morton et al. 1990, M */
        {"runners", 1.8, 50, 11},    /* Morton et al. 1990, P, secondary */
        {"literature", 1.9, 42, 13}, /* centre of the prior, design */
        {"hammer-thrower", .27 / .07, 60, 13}, /* Busso 1994, P, secondary */
        {"calvert", 2, 50, 15},                /* Calvert et al. 1976, M */
        {"triathlete-swim", 0, 31, 0},         /* Millet et al. 2002, P */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Model m;
        Notes notes = {0};
        const double *v = m.params.value;
        CU_ASSERT_FATAL(model_find(rows[i].name, "models", &m, &notes));
        ASSERT_NEAR(v[PARAM_TAU1], rows[i].tau1, 1e-12);
        CU_ASSERT_EQUAL(m.params.kind == RESPONSE_ONE_COMPONENT,
                        rows[i].tau2 == 0);
        if (rows[i].tau2 > 0) {
            ASSERT_NEAR(v[PARAM_TAU2], rows[i].tau2, 1e-12);
            ASSERT_NEAR(v[PARAM_K2] / v[PARAM_K1], rows[i].ratio, 1e-12);
        }
        model_free(&m);
        notes_free(&notes);
    }
}

/* Busso 2003's means (M); Calvert's time of rise (M). */
static void test_shipped_kinds(void) {
    ResponseParams wanted = busso(260);
    Model m;
    Notes notes = {0};
    CU_ASSERT_FATAL(model_find("busso-2003", "models", &m, &notes));
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_VARIABLE_DOSE);
    for (int i = 0; i < PARAMS; i++)
        CU_ASSERT(m.params.value[i] == wanted.value[i] ||
                  (isnan(m.params.value[i]) && isnan(wanted.value[i])));
    model_free(&m);
    CU_ASSERT_FATAL(model_find("calvert", "models", &m, &notes));
    CU_ASSERT_EQUAL(m.params.kind, RESPONSE_DELAYED);
    CU_ASSERT_EQUAL(m.params.value[PARAM_TAU_RISE], 5);
    model_free(&m);
    notes_free(&notes);
}

/* A file of draws beside the model; its test counts downwards. */
static void test_model_draws(void) {
    Model m;
    Notes notes;
    Draws draws;
    test_folder();
    test_file(1, "own draws.csv",
              "p0,k1,k2,tau1,tau2\n61.5,.04,.07,43.5,12.25\n"
              "60.25,.05,.06,40,11.5\n");
    CU_ASSERT(read_text("parameter,value,unit\nkind,two-component,\n"
                        "p0,61.5,s\nk1,.04,\nk2,.07,\ntau1,43.5,d\n"
                        "tau2,12.25,d\ndraws,own draws.csv,lower is better\n",
                        &m, &notes));
    CU_ASSERT(m.lower);
    CU_ASSERT_PTR_NOT_NULL_FATAL(m.draws);
    CU_ASSERT(draws_read(m.draws, m.params.kind, &draws, &notes));
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL_FATAL(draws.count, 2);
    CU_ASSERT_EQUAL(draws.set[1].kind, RESPONSE_TWO_COMPONENT);
    CU_ASSERT_EQUAL(draws.set[1].value[PARAM_P0], 60.25);
    CU_ASSERT_EQUAL(draws.set[0].value[PARAM_TAU2], 12.25);
    CU_ASSERT(isnan(draws.set[0].value[PARAM_K3]));
    draws_free(&draws);
    model_free(&m);
    notes_free(&notes);
    test_folder_done();
}

static void check_draws_refused(const char *content, const char *said,
                                size_t line, const char *column) {
    Notes notes = {0};
    Draws draws;
    CU_ASSERT_FALSE(draws_read(test_file(0, "draws.csv", content),
                               RESPONSE_ONE_COMPONENT, &draws, &notes));
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_EQUAL(draws.count, 0);
    CU_ASSERT_PTR_NOT_NULL_FATAL(test_note(&notes, said));
    CU_ASSERT_EQUAL(test_note(&notes, said)->line, line);
    ASSERT_TEXT(test_note(&notes, said)->column, column);
    notes_free(&notes);
}

static void test_draws_refused(void) {
    test_folder();
    check_draws_refused("p0,k1\n3,.5\n", "this column is missing", 1, "tau1");
    check_draws_refused("p0,k1,tau1\n3,.5,31\n4,half,32\n",
                        "'half', expected a number", 3, "k1");
    check_draws_refused("p0,k1,tau1\n3,.5,\n", "'', expected a number", 2,
                        "tau1");
    test_folder_done();
}

static void test_model_find(void) {
    Model m;
    Notes notes = {0};
    Text path = {0};
    CU_ASSERT_FALSE(model_find("no-such-model", "models", &m, &notes));
    CU_ASSERT_PTR_NOT_NULL(
        test_note(&notes, "'no-such-model', expected a model file or one of"));
    CU_ASSERT_EQUAL(notes.errors, 1);
    model_free(&m);
    notes_free(&notes);
    text_add(&path, "%s/", test_folder());
    test_file(0, "own.csv",
              "parameter,value\nkind,one-component\np0,3\nk1,.5\ntau1,31\n");
    text_add(&path, "own.csv");
    CU_ASSERT(model_find(text_of(&path), "models", &m, &notes));
    ASSERT_TEXT(m.name, text_of(&path));
    model_free(&m);
    CU_ASSERT_EQUAL(notes.count, 0);
    notes_free(&notes);
    text_free(&path);
    test_folder_done();
}

/* Only files that end in .csv, not hidden ones, in order of name. */
static void test_model_names(void) {
    const char *folder = test_folder();
    char **names;
    test_file(0, "zebra.csv", "");
    test_file(0, "ape.csv", "");
    test_file(0, ".hidden.csv", "");
    test_file(0, "notes.txt", "");
    test_file(0, ".csv", "");
    names = model_names(folder);
    CU_ASSERT_PTR_NOT_NULL_FATAL(names);
    ASSERT_TEXT(names[0], "ape");
    ASSERT_TEXT(names[1], "zebra");
    CU_ASSERT_PTR_NULL(names[2]);
    model_names_free(names);
    test_folder_done();
}

/* ---- draws ---- */

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
 * 9.00 d (t_n, 0 where there is none) and 29.81 d (t_g) (C; Mujika et al. 1996
 * give 12 +- 6 and 32 +- 12, M). Tolerance: three standard errors of a median,
 * 1/(2 density sqrt(n)), .2 and .3 d. */
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
    CU_ASSERT(fabs(draws_quantile(t_n, 4096, .5) - 9.00) < .6);
    CU_ASSERT(fabs(draws_quantile(t_g, 4096, .5) - 29.81) < .9);
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
    {"series_before", test_series_before},
    {"series_after", test_series_after},
    {"series_variable_dose", test_series_variable_dose},
    {"best_steady_load", test_best_steady_load},
    {"tapers", test_tapers},
    {"landmarks", test_landmarks},
    {"no_landmarks", test_no_landmarks},
    {"landmarks_definition", test_landmarks_definition},
    {"landmarks_delayed", test_landmarks_delayed},
    {"influence", test_influence},
    {"influence_delayed", test_influence_delayed},
    {"influence_of_later_loads", test_influence_of_later_loads},
    {"influence_sums", test_influence_sums},
    {"convolution", test_convolution},
    {"ode", test_ode},
    {"clock_times", test_clock_times},
    {"lfilter", test_lfilter},
    {"steady", test_steady},
    {"before", test_before},
    {"before_age", test_before_age},
    {"nothing", test_nothing},
    {"superposition", test_superposition},
    {"time_shift", test_time_shift},
    {"reading_steps", test_reading_steps},
    {"one_component", test_one_component},
    {"no_negative_zero", test_no_negative_zero},
    {"batch", test_batch},
    {"batch_place", test_batch_place},
    {"model_read", test_model_read},
    {"model_spreadsheet", test_model_spreadsheet},
    {"model_errors", test_model_errors},
    {"model_all_errors", test_model_all_errors},
    {"model_missing_file", test_model_missing_file},
    {"shipped_models", test_shipped_models},
    {"shipped_values", test_shipped_values},
    {"shipped_kinds", test_shipped_kinds},
    {"model_draws", test_model_draws},
    {"model_find", test_model_find},
    {"model_names", test_model_names},
    {"draws_seed", test_draws_seed},
    {"draws_fixed", test_draws_fixed},
    {"draws_apart", test_draws_apart},
    {"draws_truncated", test_draws_truncated},
    {"draws_independent", test_draws_independent},
    {"draws_landmarks", test_draws_landmarks},
    {"draws_refused", test_draws_refused},
    {"draws_none", test_draws_none},
    {"draws_one_component", test_draws_one_component},
    {"draws_too_near", test_draws_too_near},
    {"quantile", test_quantile},
    {"quantile_random", test_quantile_random},
    {NULL, NULL}};

const TestSuite suite_response = {"response", cases};
