/* traces: the tables beside the kernel, and V beside its sum written out, one
 * term a load.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include "calibrate/traces.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

enum { MOMENTS = 30, TRIES = 40 };

static double at_of(const Timeline *t, size_t step) {
    double at = 0;
    for (size_t i = 1; i <= step; i++)
        at += t->gap ? t->gap[i] : 1;
    return at;
}

/* Sum over the loads, those of a thousand days before the log one by one. */
static double past_of(const Timeline *t, Moment m, double tau, double tau3) {
    enum { DAYS = 4000 };
    size_t last = m.when == READ_AFTER ? m.step + 1 : m.step;
    double sum = 0, memory = 0, at = at_of(t, m.step);
    for (size_t i = DAYS; i-- > 0;) {
        double age = t->before_age + (double)i;
        memory = memory * exp(-1 / tau3) + t->before;
        sum += t->before * (tau3 > 0 ? memory : 1) * exp(-(at + age) / tau);
    }
    memory *= exp(-(t->before_age) / tau3);
    for (size_t i = 0; i < last; i++) {
        double gap = i > 0 ? at_of(t, i) - at_of(t, i - 1) : 0;
        memory = memory * exp(-gap / tau3) + t->load[i];
        sum += t->load[i] * (tau3 > 0 ? memory : 1) *
               exp(-(at - at_of(t, i)) / tau);
    }
    return sum;
}

static void check_tables(const Athlete *a, const Moment *moment, gsl_rng *rng) {
    const Timeline *line = &a->data.timeline;
    TracesAsked asked = {line,
                         moment,
                         MOMENTS,
                         {log(.8), log(300)},
                         {log(1.5), log(60)},
                         {log(.5), log(9)}};
    Traces *t = traces_build(&asked);
    double *value = malloc(traces_room(t) * sizeof *value);
    double mean = traces_mean_load(line), size = 0;
    for (size_t i = 0; i < line->steps; i++)
        size = fmax(size, line->load[i]);
    for (int try = 0; try < TRIES; try++) {
        double tau = exp(test_between(rng, log(.8), log(300)));
        double tau2 = exp(test_between(rng, log(1.5), log(60)));
        double tau3 = exp(test_between(rng, log(.5), log(9)));
        size_t i = gsl_rng_uniform_int(rng, MOMENTS);
        double f = past_of(line, moment[i], tau, NAN);
        double v = past_of(line, moment[i], tau2, tau3) * -expm1(-1 / tau3);
        CU_ASSERT_TRUE(traces_read(t, log(tau), value));
        CU_ASSERT(fabs(value[i] - f) < 1e-5 * (f + size));
        CU_ASSERT_TRUE(traces_read_grown(t, log(tau2), log(tau3), value));
        CU_ASSERT(fabs(value[i] - v / mean) < 1e-3 * (v / mean + size));
    }
    CU_ASSERT_FALSE(traces_read(t, log(.6), value));
    CU_ASSERT_FALSE(traces_read(t, log(400), value));
    CU_ASSERT_FALSE(traces_read_grown(t, log(7), log(20), value));
    CU_ASSERT_FALSE(traces_read_grown(t, log(1), log(2), value));
    CU_ASSERT_TRUE(traces_read(t, log(300), value));
    free(value);
    traces_free(t);
}

static void test_traces(void) {
    static Athlete a;
    gsl_rng *rng = test_random(20905);
    for (int timed = 0; timed < 2; timed++) {
        Moment moment[MOMENTS];
        random_athlete(RESPONSE_TWO_COMPONENT, rng, 6, .5, &a);
        for (size_t i = 0; i < STEPS_MOST; i++)
            a.gap[i] = gsl_rng_uniform(rng) < .5 ? 1 : gsl_rng_uniform(rng);
        a.data.timeline.gap = timed ? a.gap : NULL;
        a.data.timeline.before_age = timed ? .6 : 1;
        for (size_t i = 0; i < MOMENTS; i++)
            moment[i] =
                (Moment){gsl_rng_uniform_int(rng, a.data.timeline.steps),
                         gsl_rng_uniform(rng) < .5 ? READ_AFTER : READ_BEFORE};
        check_tables(&a, moment, rng);
    }
    gsl_rng_free(rng);
}

static void test_traces_mean_load(void) {
    const double load[] = {300, 0, 500, 200}, gap[] = {9, .5, .5, 1};
    Timeline t = {.steps = 4, .load = load, .before_age = 1};
    ASSERT_NEAR(traces_mean_load(&t), 250, 1e-13);
    t.gap = gap; /* two sessions on each of two days, the last one's next */
    ASSERT_NEAR(traces_mean_load(&t), 1000 / 3., 1e-13);
}

static const TestCase cases[] = {{"traces", test_traces},
                                 {"traces_mean_load", test_traces_mean_load},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_traces = {"calibrate", cases};
