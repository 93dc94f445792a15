/* tracks: see tracks.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "tracks.h"
#include "test.h"

#include "response/kernel.h"

#include <gsl/gsl_rng.h>
#include <math.h>

ResponseParams two(double p0, double k1, double k2, double tau1, double tau2) {
    return (ResponseParams){RESPONSE_TWO_COMPONENT,
                            {p0, k1, k2, tau1, tau2, NAN, NAN, NAN}};
}

ResponseParams one(double p0, double k1, double tau1) {
    return (ResponseParams){RESPONSE_ONE_COMPONENT,
                            {p0, k1, NAN, tau1, NAN, NAN, NAN, NAN}};
}

ResponseParams classic(double p0) {
    return two(p0, 1, 2, 45, 15);
}

ResponseParams any_params(gsl_rng *rng) {
    double tau2 = test_between(rng, 1.2, 30);
    double tau1 = tau2 * test_between(rng, 1.05, 6);
    if (gsl_rng_uniform(rng) < .2)
        return one(test_between(rng, -900, 900), test_between(rng, 0, 3), tau1);
    return two(test_between(rng, -900, 900), test_between(rng, 0, 3),
               test_between(rng, 0, 5), tau1, tau2);
}

ResponseParams any_of_kind(gsl_rng *rng, ResponseKind kind) {
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
    if (kind == RESPONSE_GRADED) {
        p.value[PARAM_TAU3] = test_between(rng, .5, 9);
        p.value[PARAM_RATIO] = test_between(rng, .2, 4);
        p.value[PARAM_GROWTH] = test_between(rng, 0, 1);
        response_settle(&p, test_between(rng, 20, 900));
    }
    return p;
}

ResponseParams random_any(gsl_rng *rng) {
    return any_of_kind(rng,
                       (ResponseKind)gsl_rng_uniform_int(rng, RESPONSE_KINDS));
}

/* Kinds of gaps: daily, a few clock times, any, several at one moment. */
static double random_gap(gsl_rng *rng, int kind) {
    if (kind == 1)
        return (double)(1 + gsl_rng_uniform_int(rng, 3)) / 4;
    if (kind == 2)
        return test_between(rng, 0, 3);
    return gsl_rng_uniform(rng) < .3 ? 0 : test_between(rng, .01, 2.5);
}

void random_track(gsl_rng *rng, size_t steps, Track *t) {
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

double value_of(const ResponseParams *p, Param param) {
    return isfinite(p->value[param]) ? p->value[param] : 0;
}

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

Pair direct(const ResponseParams *p, const Track *t, size_t i, ReadWhen when) {
    const double *v = p->value;
    size_t count = when == READ_AFTER ? i + 1 : i;
    double time[STEPS_MOST];
    Pair sum = {0, 0};
    times_of(t, time);
    sum.fitness = v[PARAM_K1] * load_sum(t, time, i, count, v[PARAM_TAU1]);
    if (p->kind == RESPONSE_DELAYED)
        sum.fitness -=
            v[PARAM_K1] * load_sum(t, time, i, count, v[PARAM_TAU_RISE]);
    if (!response_linear(p->kind))
        sum.fatigue = v[PARAM_K3] * dose_sum(p, t, time, i, count);
    if (isfinite(v[PARAM_K2]))
        sum.fatigue += v[PARAM_K2] * load_sum(t, time, i, count, v[PARAM_TAU2]);
    return sum;
}

void readiness_of(const ResponseParams *p, const Timeline *line, ReadWhen when,
                  double *readiness) {
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    kernel_run(p, line, when, fitness, fatigue);
    for (size_t i = 0; i < line->steps; i++)
        readiness[i] = p->value[PARAM_P0] + fitness[i] - fatigue[i];
}

ResponseParams busso(double p0) {
    return (ResponseParams){RESPONSE_VARIABLE_DOSE,
                            {p0, .031, NAN, 30.8, 16.8, NAN, .000035, 2.3}};
}
