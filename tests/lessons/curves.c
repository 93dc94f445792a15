/* curves: the numbers behind the teaching figures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "lessons/curves.h"

#include <math.h>

static const ResponseParams classic = {RESPONSE_TWO_COMPONENT,
                                       {500, 1, 2, 45, 15, NAN, NAN, NAN}};
/* Busso 2003, means of six men; from memory */
static const ResponseParams busso = {
    RESPONSE_VARIABLE_DOSE, {260, .031, NAN, 30.8, 16.8, NAN, .000035, 2.3}};

/* The best steady load 290.2024/d by an independent simulation, to two
 * digits. */
static void usual_load(void) {
    ASSERT_NEAR(lesson_usual_load(&busso), 290, 1e-9);
    ASSERT_NEAR(lesson_usual_load(&classic), 100, 1e-9);
}

/* Influence of the classic set, u = 1 and 16, by R from the formula. */
static void influence(void) {
    ASSERT_NEAR(lesson_influence(&classic, 100, 1), -.892991, 1e-6);
    ASSERT_NEAR(lesson_influence(&classic, 100, 16), .012476, 1e-6);
    ASSERT_NEAR(lesson_marks(&classic, 100).t_n, 15.595812, 1e-7);
    ASSERT_NEAR(lesson_marks(&classic, 100).t_g, 40.314588, 1e-7);
}

/* Readiness after steady training and one changed day, by the double sum of
 * Busso 2003, no recursion. */
static double busso_sum(double change, int age) {
    const double *v = busso.value;
    double readiness = 0;
    for (int u = 1; u <= 600; u++) { /* u days before */
        double load = 290 + (u == age ? change : 0), gain = 0;
        for (int w = u; w <= u + 60; w++)
            gain +=
                (290 + (w == age ? change : 0)) * exp(-(w - u) / v[PARAM_TAU3]);
        readiness += v[PARAM_K1] * load * exp(-u / v[PARAM_TAU1]) -
                     v[PARAM_K3] * gain * load * exp(-u / v[PARAM_TAU2]);
    }
    return readiness;
}

static void variable_dose_influence(void) {
    static const int ages[] = {1, 2, 7, 19, 53};
    for (int i = 0; i < 5; i++) {
        double slope =
            (busso_sum(.01, ages[i]) - busso_sum(-.01, ages[i])) / .02;
        ASSERT_NEAR(lesson_influence(&busso, 290, ages[i]), slope, 1e-6);
    }
}

/* A step of L days at cut c gains -c w sum of the influences; the optimum of
 * the variable-dose kind is near 31 % for 18 d (independent simulation). */
static void gains(void) {
    Option step = {.count = 1, .part = {{9, 35, 35, 'x'}}};
    double wanted = 0, best = 0;
    int length = 0, cut = 0;
    for (int u = 1; u <= 9; u++)
        wanted -= .35 * 100 * (exp(-u / 45.0) - 2 * exp(-u / 15.0));
    ASSERT_NEAR(lesson_gain(&classic, 100, &step), wanted, 1e-9);
    for (int days = 5; days <= 40; days++)
        for (int share = 5; share <= 75; share++) {
            double gain;
            step.part[0] = (OptionPart){days, share, share, 'x'};
            gain = lesson_gain(&busso, 290.2024, &step);
            if (gain > best) {
                best = gain;
                length = days;
                cut = share;
            }
        }
    CU_ASSERT_EQUAL(length, 18);
    CU_ASSERT_EQUAL(cut, 31);
}

/* The twin of the classic set at 100 a day, by the double sum of Busso 2003 in
 * Python with k3 = k2 (1 - e^(-1/2.3))/100. */
static void twin(void) {
    ResponseParams t, back;
    double load[300], fatigue[2][300];
    LessonRun run = {NULL, fatigue[0], NULL};
    Option best = {.count = 1, .part = {{21, 62, 62, 'x'}}};
    for (int i = 0; i < 300; i++)
        load[i] = 100;
    CU_ASSERT_TRUE(lesson_twin(&classic, 100, 2.3, &t));
    lesson_run(&classic, load, 300, 100, &run);
    run.fatigue = fatigue[1];
    lesson_run(&t, load, 300, 100, &run);
    ASSERT_NEAR(fatigue[0][299], 2901.111028815, 1e-6);
    ASSERT_NEAR(fatigue[1][299], 2901.111028815, 1e-6);
    ASSERT_NEAR(lesson_gain(&t, 100, &best), 816.7696002612, 1e-6);
    CU_ASSERT_TRUE(lesson_twin(&t, 100, NAN, &back));
    ASSERT_NEAR(back.value[PARAM_K2], 2, 1e-12);
    back.kind = RESPONSE_ONE_COMPONENT;
    CU_ASSERT_FALSE(lesson_twin(&back, 100, 2.3, &t));
}

static const TestCase cases[] = {
    {"usual_load", usual_load},
    {"influence", influence},
    {"variable_dose_influence", variable_dose_influence},
    {"gains", gains},
    {"twin", twin},
    {NULL, NULL}};

const TestSuite suite_lessons_curves = {"lessons", cases};
