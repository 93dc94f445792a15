/* athlete_tests: see athlete_tests.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/athlete_tests.h"

#include "base/mem.h"
#include "calibrate/fit.h"
#include "calibrate/typical.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SAME_LEAST = 5 /* readings */ };

static bool in_log(const Outlook *o, const Test *test) {
    return test->date >= o->first && test->date < o->first + (Date)o->log_days;
}

static size_t count_tests(const Athlete *a, const Outlook *o, uint32_t test) {
    size_t count = 0;
    for (size_t i = 0; i < a->test_count; i++)
        count += a->tests[i].test == test && in_log(o, &a->tests[i]);
    return count;
}

/* The kind of test asked for, or the one with most tests; of as many the first
 * by name, whatever the order of rows. */
static bool choose(const Season *s, const Athlete *a, const Outlook *o,
                   const char *name, uint32_t *test) {
    size_t most = 0;
    for (uint32_t i = 0; i < s->test_names.count; i++) {
        size_t count = count_tests(a, o, i);
        if (name && !text_same(s->test_names.items[i], name))
            continue;
        if (count > most ||
            (count > 0 && count == most &&
             strcmp(s->test_names.items[i], s->test_names.items[*test]) < 0)) {
            most = count;
            *test = i;
        }
    }
    return most > 0;
}

/* 1/error^2, scaled to a mean of 1; tests without an error get that of the
 * others, or all the same weight. */
static void set_weights(const Athlete *a, const size_t *index, TestData *d) {
    double square = 0, sum = 0;
    size_t given = 0;
    for (size_t i = 0; i < d->count; i++)
        if (isfinite(a->tests[index[i]].error)) {
            square += pow(a->tests[index[i]].error, 2);
            given++;
        }
    d->error = given ? sqrt(square / (double)given) : NAN;
    for (size_t i = 0; i < d->count; i++) {
        double error = a->tests[index[i]].error;
        if (!isfinite(error))
            error = given ? d->error : 1;
        d->weight[i] = 1 / (error * error);
        sum += d->weight[i];
    }
    for (size_t i = 0; i < d->count; i++)
        d->weight[i] *= (double)d->count / sum;
}

/* Steps of the timeline that belong to the log. */
static size_t log_steps(const Outlook *o) {
    return o->log_days < o->days ? o->read_step[o->log_days]
                                 : o->timeline.steps;
}

bool athlete_tests_read(const Season *s, size_t athlete, const Outlook *o,
                        const char *name, AthleteTests *own) {
    const Athlete *a = &s->athletes[athlete];
    TestData *d = &own->data;
    size_t count, *index;
    *own = (AthleteTests){.test = 0};
    if (!choose(s, a, o, name, &own->test))
        return false;
    count = count_tests(a, o, own->test);
    index = mem_new(count, sizeof *index);
    d->step = mem_new(count, sizeof *d->step);
    d->when = mem_new(count, sizeof *d->when);
    d->value = mem_new(count, sizeof *d->value);
    d->weight = mem_new(count, sizeof *d->weight);
    own->date = mem_new(count, sizeof *own->date);
    d->timeline = o->timeline;
    d->timeline.steps = log_steps(o);
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        size_t day = (size_t)(test->date - o->first);
        if (test->test != own->test || !in_log(o, test))
            continue;
        own->lower = test->lower_better;
        own->date[d->count] = test->date;
        index[d->count] = i;
        d->when[d->count] = test->after ? READ_AFTER : READ_BEFORE;
        d->step[d->count] =
            test->after ? o->after_step[day] : o->read_step[day];
        d->value[d->count++] = test->lower_better ? -test->value : test->value;
    }
    set_weights(a, index, d);
    free(index);
    return true;
}

void athlete_tests_none(const Season *s, uint32_t test, const Outlook *o,
                        AthleteTests *own) {
    *own = (AthleteTests){.test = test};
    own->data.timeline = o->timeline;
    own->data.timeline.steps = log_steps(o);
    own->data.error = NAN;
    for (size_t i = 0; i < s->athlete_count; i++)
        for (size_t k = 0; k < s->athletes[i].test_count; k++)
            if (s->athletes[i].tests[k].test == test)
                own->lower = s->athletes[i].tests[k].lower_better;
}

/* By how much a kind of test varies in a squad until today, or with `all` in
 * the season; 0 where nobody has one. */
static double typical_of(const Season *s, uint32_t test, uint32_t squad,
                         bool all) {
    size_t room = 0, *athlete;
    double *value, typical;
    SquadReadings r = {0, NULL, NULL};
    for (size_t i = 0; i < s->athlete_count; i++)
        room += s->athletes[i].test_count;
    value = mem_new(room + 1, sizeof *value);
    athlete = mem_new(room + 1, sizeof *athlete);
    for (size_t i = 0; i < s->athlete_count; i++) {
        const Athlete *a = &s->athletes[i];
        for (size_t k = 0; k < a->test_count; k++)
            if (a->tests[k].test == test && a->tests[k].date <= s->today &&
                (all || a->squad == squad)) {
                value[r.count] = a->tests[k].value;
                athlete[r.count++] = i;
            }
    }
    r.value = value;
    r.athlete = athlete;
    typical = r.count ? typical_spread(&r) : 0;
    free(value);
    free(athlete);
    return typical;
}

TestGroup athlete_tests_kind(const Season *s, size_t athlete,
                             const AthleteTests *own) {
    uint32_t squad = s->athletes[athlete].squad;
    double typical = typical_of(s, own->test, squad, false);
    if (!(typical > 0))
        typical = typical_of(s, own->test, squad, true);
    return (TestGroup){&own->data, posterior_prior(&own->data, typical)};
}

const char *athlete_tests_flat(const AthleteTests *own) {
    const Timeline *t = &own->data.timeline;
    ResponseParams one = {RESPONSE_ONE_COMPONENT,
                          {0, 1, NAN, 42, NAN, NAN, NAN, NAN}};
    double *fitness = mem_new(t->steps, sizeof *fitness);
    double *fatigue = mem_new(t->steps, sizeof *fatigue);
    double mean = 0, square = 0, most = 0;
    kernel_run(&one, t, READ_BEFORE, fitness, fatigue);
    for (size_t i = 0; i < t->steps; i++)
        mean += fitness[i] / (double)t->steps;
    for (size_t i = 0; i < t->steps; i++)
        square += pow(fitness[i] - mean, 2) / (double)t->steps;
    for (size_t i = 0; i <= own->data.step[own->data.count - 1]; i++)
        most = fmax(most, fitness[i]);
    free(fitness);
    free(fatigue);
    return !(most > .01 * mean)           ? "no training to learn from lies "
                                            "before the last test"
           : !(sqrt(square) > .01 * mean) ? "the load hardly varies over the "
                                            "log"
                                          : NULL;
}

static double rss_with(const AthleteTests *own, double before) {
    TestData data = own->data;
    Fit fit;
    data.timeline.before = before;
    fit_best(RESPONSE_TWO_COMPONENT, &data, &fit);
    return fit.rss;
}

bool athlete_tests_same(const AthleteTests *a, const AthleteTests *b) {
    const TestData *x = &a->data, *y = &b->data;
    size_t n = x->count;
    double xx, yy, r;
    if (n < SAME_LEAST || y->count != n ||
        memcmp(x->step, y->step, n * sizeof *x->step) != 0)
        return false;
    xx = gsl_stats_variance(x->value, 1, n);
    yy = gsl_stats_variance(y->value, 1, n);
    if (xx == 0 || yy == 0)
        return xx == yy;
    r = gsl_stats_correlation(x->value, 1, y->value, 1, n);
    return r > 1 - 1e-9;
}

double athlete_tests_before(const AthleteTests *own, double usual) {
    double best = usual, lowest = rss_with(own, usual), step = usual / 4;
    for (int i = 0; i <= 12; i++) {
        double rss = rss_with(own, i * step);
        if (rss < lowest * (1 - 1e-9)) {
            lowest = rss;
            best = i * step;
        }
    }
    for (int round = 0; round < 8; round++) {
        double from = best;
        step /= 2;
        for (int side = -1; side <= 1; side += 2) {
            double before = fmin(3 * usual, fmax(0, from + side * step));
            double rss = rss_with(own, before);
            if (rss < lowest * (1 - 1e-9)) {
                lowest = rss;
                best = before;
            }
        }
    }
    return best;
}

void athlete_tests_prior(const Model *model, Model *prior) {
    static const double usual[PARAMS] = {
        [PARAM_K2] = .3,       [PARAM_TAU1] = .3, [PARAM_TAU2] = .4,
        [PARAM_TAU_RISE] = .4, [PARAM_K3] = .3,   [PARAM_TAU3] = .4};
    *prior = *model;
    for (int i = 0; i < PARAMS; i++) {
        if (response_has(model->params.kind, (Param)i) && usual[i] > 0 &&
            !model_uncertain(model))
            prior->spread[i] = usual[i];
    }
}

void athlete_tests_free(AthleteTests *own) {
    free(own->data.step);
    free(own->data.when);
    free(own->data.value);
    free(own->data.weight);
    free(own->date);
    *own = (AthleteTests){.test = 0};
}
