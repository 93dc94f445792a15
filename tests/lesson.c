/* lesson: the numbers behind the teaching figures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "taper/lessons.h"

#include <math.h>
#include <stdlib.h>

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

/* Every answer again from the words of the worksheet alone, in Python with
 * the rules a student has; rounded as the key is. */
static void worksheets(void) {
    static const char *const script =
        "import re, sys, math\n"
        "def read(n):\n"
        "    s = open(sys.argv[1] + '/' + n + '.html').read()\n"
        "    return re.findall(r'<h2>(Sheet.*?)</h2>\\s*<p>(.*?)</p>', s)\n"
        "good = 0\n"
        "for (a, q), (b, k) in zip(read('worksheet'), read('answers')):\n"
        "    t = [float(x) for x in re.findall(r'tau[12] = (\\d+) d', q)]\n"
        "    loads = re.search(r'1 to 5:([ \\d]+)\\.', q).group(1).split()\n"
        "    f = 0\n"
        "    for w in loads: f = (f + float(w)) * math.exp(-1 / t[0])\n"
        "    want = ['%.1f' % (x * math.log(2)) for x in t]\n"
        "    k1, k2 = map(float, re.search(\n"
        "        r'k1 = (\\S+), k2 = (\\S+):', q).groups())\n"
        "    c = t[0] * t[1] / (t[0] - t[1])\n"
        "    want += ['%.0f' % f, '%.1f' % (c * math.log(k2 / k1)),\n"
        "             '%.1f' % (c * math.log(t[0] * k2 / t[1] / k1))]\n"
        "    got = re.search(r'in (\\S+) d, fatigue in (\\S+) d. 2. (\\d+)\\. "
        "'\n"
        "        r'3. t_n (\\S+) d, t_g (\\S+) d', k).groups()\n"
        "    good += a == b and list(got) == want\n"
        "print(good)\n";
    const char *folder = test_folder();
    const char *words[] = {test_program(), "lesson", "all",  "--model",
                           "classic",      "--out",  folder, "--sheets",
                           "30",           "--seed", "2385", NULL};
    const char *arguments[] = {folder, NULL};
    char *out;
    CU_ASSERT_EQUAL(test_run(words, NULL, NULL), 0);
    out = test_python(script, arguments);
    ASSERT_TEXT(out, "30\n");
    free(out);
    test_folder_done();
}

static const TestCase cases[] = {
    {"usual_load", usual_load},
    {"influence", influence},
    {"variable_dose_influence", variable_dose_influence},
    {"gains", gains},
    {"worksheets", worksheets},
    {NULL, NULL}};

const TestSuite suite_lesson = {"lesson", cases};
