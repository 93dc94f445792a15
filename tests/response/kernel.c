/* kernel: beside published series, sums written out, GSL's differential
 * equations and SciPy's recursive filter; closed forms and symmetries.
 *
 * Check values stand beside their source and its status: P read in the
 * publication, M from memory, C computed from the formula by an independent
 * program (R or C). Random cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"
#include "tracks.h"

#include "base/text.h"
#include "response/kernel.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

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
        ResponseParams p = any_params(rng);
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
        ResponseParams p = any_params(rng);
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
            p[i] = any_of_kind(rng, kind);
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

static const TestCase cases[] = {
    {"series_before", test_series_before},
    {"series_after", test_series_after},
    {"series_variable_dose", test_series_variable_dose},
    {"best_steady_load", test_best_steady_load},
    {"tapers", test_tapers},
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
    {NULL, NULL}};

const TestSuite suite_response_kernel = {"response", cases};
