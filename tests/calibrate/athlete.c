/* athlete: see athlete.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "athlete.h"
#include "test.h"

#include "base/text.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

bool quick(void) {
    const char *given = getenv("PEAKWARD_QUICK");
    return given && *given;
}

ResponseParams params_of(ResponseKind kind, const double *value) {
    ResponseParams p = {.kind = kind};
    for (int i = 0; i < PARAMS; i++)
        p.value[i] = response_has(kind, (Param)i) ? value[i] : NAN;
    return p;
}

ResponseParams unit_params(ResponseKind kind, const double *taus) {
    double value[PARAMS] = {[PARAM_K1] = 1, [PARAM_K2] = 1, [PARAM_K3] = 1};
    Param which[SHAPE_TAUS];
    int count = basis_taus(kind, which);
    for (int i = 0; i < count; i++)
        value[which[i]] = taus[i];
    return params_of(kind, value);
}

Model literature(void) {
    static char name[] = "literature";
    Model m = {.name = name};
    m.params = params_of(RESPONSE_TWO_COMPONENT,
                         (const double[PARAMS]){0, 1, 1.9, 42, 13});
    for (int i = 0; i < PARAMS; i++)
        m.spread[i] = NAN;
    m.spread[PARAM_K2] = .5;
    m.spread[PARAM_TAU1] = .4;
    m.spread[PARAM_TAU2] = .7;
    return m;
}

Model family(void) {
    static char name[] = "literature";
    double value[PARAMS] = {
        [PARAM_K1] = 1,      [PARAM_TAU1] = 39,   [PARAM_TAU2] = 12,
        [PARAM_RATIO] = 2.1, [PARAM_GROWTH] = .5, [PARAM_TAU3] = 2.3};
    Model m = {.name = name, .params = params_of(RESPONSE_GRADED, value)};
    for (int i = 0; i < PARAMS; i++)
        m.spread[i] = NAN;
    m.spread[PARAM_RATIO] = m.spread[PARAM_GROWTH] = m.spread[PARAM_TAU3] = .5;
    m.spread[PARAM_TAU1] = .4;
    m.spread[PARAM_TAU2] = .7;
    return m;
}

void athlete_start(Athlete *a, size_t steps, size_t tests) {
    *a = (Athlete){0};
    a->data = (TestData){
        .timeline = {.steps = steps, .load = a->load, .before_age = 1},
        .count = tests,
        .step = a->step,
        .when = a->when,
        .value = a->value,
        .weight = a->weight,
        .error = NAN};
    for (size_t i = 0; i < tests; i++)
        a->weight[i] = 1;
}

void random_loads(gsl_rng *rng, Athlete *a) {
    for (size_t i = 0; i < a->data.timeline.steps; i++) {
        bool rest = i % 7 == 6 || gsl_rng_uniform(rng) < .15;
        double block = i / 28 % 2 ? 1 : .6;
        a->load[i] = rest ? 0 : block * test_between(rng, 150, 650);
    }
    a->data.timeline.before = gsl_rng_uniform(rng) < .7 ? 253.5 : 0;
}

void place_tests(gsl_rng *rng, ReadWhen when, Athlete *a) {
    double n = (double)a->data.count, steps = (double)a->data.timeline.steps;
    for (size_t i = 0; i < a->data.count; i++) {
        double at = ((double)i + test_between(rng, .2, .8)) * steps / n;
        a->step[i] = (size_t)at;
        a->when[i] = when;
    }
}

ResponseParams random_truth(ResponseKind kind, gsl_rng *rng) {
    double v[PARAMS] = {[PARAM_K1] = 1};
    do {
        v[PARAM_TAU1] = 42 * exp(.4 * gsl_ran_ugaussian(rng));
        v[PARAM_TAU2] = 13 * exp(.7 * gsl_ran_ugaussian(rng));
    } while (v[PARAM_TAU1] <= 1.3 * v[PARAM_TAU2]);
    v[PARAM_K2] = 1.9 * exp(.5 * gsl_ran_ugaussian(rng));
    v[PARAM_TAU_RISE] = 4.3 * exp(.3 * gsl_ran_ugaussian(rng));
    v[PARAM_K3] = .00065 * exp(.3 * gsl_ran_ugaussian(rng));
    v[PARAM_TAU3] = 2.9 * exp(.3 * gsl_ran_ugaussian(rng));
    return params_of(kind, v);
}

void readiness_along(const ResponseParams *p, const Timeline *line,
                     ReadWhen when, double *readiness) {
    double fitness[STEPS_MOST], fatigue[STEPS_MOST];
    kernel_run(p, line, when, fitness, fatigue);
    for (size_t i = 0; i < line->steps; i++)
        readiness[i] = p->value[PARAM_P0] + fitness[i] - fatigue[i];
}

double sd_over_log(const ResponseParams *p, const Timeline *line) {
    double all[STEPS_MOST], mean;
    readiness_along(p, line, READ_BEFORE, all);
    mean = gsl_stats_mean(all, 1, line->steps);
    return gsl_stats_sd_with_fixed_mean(all, 1, line->steps, mean);
}

double read_truth(const Athlete *a, size_t test) {
    double all[STEPS_MOST];
    readiness_along(&a->truth, &a->data.timeline, a->when[test], all);
    return all[a->step[test]];
}

void simulate_tests(gsl_rng *rng, double effect, double noise, Athlete *a) {
    double k1, *v = a->truth.value;
    v[PARAM_P0] = 0;
    k1 = effect / sd_over_log(&a->truth, &a->data.timeline);
    v[PARAM_P0] = 83.7;
    v[PARAM_K1] = k1;
    v[PARAM_K2] *= k1;
    v[PARAM_K3] *= k1;
    for (size_t i = 0; i < a->data.count; i++)
        a->value[i] = read_truth(a, i) + noise * gsl_ran_ugaussian(rng);
}

void random_athlete(ResponseKind kind, gsl_rng *rng, size_t tests, double noise,
                    Athlete *a) {
    athlete_start(a, 120 + gsl_rng_uniform_int(rng, 81), tests);
    random_loads(rng, a);
    place_tests(rng, gsl_rng_uniform(rng) < .5 ? READ_BEFORE : READ_AFTER, a);
    a->truth = random_truth(kind, rng);
    simulate_tests(rng, 3.85, noise, a);
}

double rss_of(const ResponseParams *p, const TestData *d) {
    double before[STEPS_MOST], after[STEPS_MOST], sum = 0;
    readiness_along(p, &d->timeline, READ_BEFORE, before);
    readiness_along(p, &d->timeline, READ_AFTER, after);
    for (size_t i = 0; i < d->count; i++) {
        const double *all = d->when[i] == READ_BEFORE ? before : after;
        sum += d->weight[i] * pow(d->value[i] - all[d->step[i]], 2);
    }
    return sum;
}

double centred_sum(const TestData *d) {
    double mean = gsl_stats_wmean(d->weight, 1, d->value, 1, d->count);
    return gsl_stats_wtss_m(d->weight, 1, d->value, 1, d->count, mean);
}

void put_numbers(Text *text, const char *name, const double *value,
                 size_t count) {
    text_add(text, "\"%s\": [", name);
    for (size_t i = 0; i < count; i++)
        text_add(text, "%s%.17g", i ? ", " : "", value[i]);
    text_add(text, "]");
}

void put_athlete(Text *text, const Athlete *a) {
    double step[TESTS_MOST], after[TESTS_MOST];
    for (size_t i = 0; i < a->data.count; i++) {
        step[i] = (double)a->step[i];
        after[i] = a->when[i] == READ_AFTER;
    }
    text_add(text, "{\"before\": %.17g, ", a->data.timeline.before);
    put_numbers(text, "load", a->load, a->data.timeline.steps);
    text_add(text, ", ");
    put_numbers(text, "step", step, a->data.count);
    text_add(text, ", ");
    put_numbers(text, "after", after, a->data.count);
    text_add(text, ", ");
    put_numbers(text, "value", a->value, a->data.count);
    text_add(text, ", ");
    put_numbers(text, "weight", a->weight, a->data.count);
    text_add(text, "}");
}

bool take_numbers(const char *printed, double *value, size_t count) {
    char *end;
    for (size_t i = 0; i < count; i++, printed = end) {
        value[i] = strtod(printed ? printed : "", &end);
        if (!printed || end == printed) {
            CU_FAIL("the script must print all its numbers");
            return false;
        }
    }
    return true;
}

bool same_bits(const ResponseParams *a, const ResponseParams *b) {
    return a->kind == b->kind &&
           memcmp(a->value, b->value, sizeof a->value) == 0;
}

const double misra_x[14] = {77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                            378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};

const double misra_y[14] = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                            44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
