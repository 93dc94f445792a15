/* bench/fit: seeded athletes of two years and 20 tests, and how long the best
 * fit and the posterior take for each; JSON on standard output for fit.py.
 *
 * Times are processor time of one core, the median of five runs [ms].
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/fit.h"
#include "calibrate/posterior.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <malloc.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { ATHLETES = 100, DAYS = 730, TESTS = 20, RUNS = 5 };

typedef struct {
    double load[DAYS], value[TESTS], weight[TESTS];
    size_t step[TESTS];
    ReadWhen when[TESTS];
    TestData data;
} Athlete;

/* Sessions on most days, harder in every other four weeks. */
static void set_loads(gsl_rng *rng, double *load) {
    for (size_t i = 0; i < DAYS; i++) {
        bool rest = i % 7 == 6 || gsl_rng_uniform(rng) < .15;
        load[i] =
            rest ? 0
                 : (i / 28 % 2 ? 1 : .6) * (150 + 500 * gsl_rng_uniform(rng));
    }
}

/* Shapes about the literature's centre, fitness above fatigue by 1.3. */
static ResponseParams truth_of(gsl_rng *rng) {
    ResponseParams p = {RESPONSE_TWO_COMPONENT,
                        {0, 1, NAN, NAN, NAN, NAN, NAN, NAN}};
    do {
        p.value[PARAM_TAU1] = 42 * exp(.4 * gsl_ran_ugaussian(rng));
        p.value[PARAM_TAU2] = 13 * exp(.7 * gsl_ran_ugaussian(rng));
    } while (p.value[PARAM_TAU1] <= 1.3 * p.value[PARAM_TAU2]);
    p.value[PARAM_K2] = 1.9 * exp(.5 * gsl_ran_ugaussian(rng));
    return p;
}

/* An effect of training of SD 3.85 about 83.7, noise of a fifth of it. */
static void set_tests(gsl_rng *rng, Athlete *a) {
    static double fitness[DAYS], fatigue[DAYS];
    ResponseParams p = truth_of(rng);
    double mean = 0, square = 0;
    kernel_run(&p, &a->data.timeline, READ_BEFORE, fitness, fatigue);
    for (size_t i = 0; i < DAYS; i++)
        mean += (fitness[i] - fatigue[i]) / DAYS;
    for (size_t i = 0; i < DAYS; i++)
        square += pow(fitness[i] - fatigue[i] - mean, 2) / DAYS;
    for (size_t i = 0; i < TESTS; i++) {
        size_t at = (size_t)(((double)i + .2 + .6 * gsl_rng_uniform(rng)) *
                             DAYS / TESTS);
        a->step[i] = at;
        a->weight[i] = 1;
        a->value[i] = 83.7 +
                      3.85 / sqrt(square) * (fitness[at] - fatigue[at] - mean) +
                      .77 * gsl_ran_ugaussian(rng);
    }
}

static void athlete_make(gsl_rng *rng, Athlete *a) {
    *a = (Athlete){0};
    a->data = (TestData){.timeline = {.steps = DAYS,
                                      .load = a->load,
                                      .before = 253.5,
                                      .before_age = 1},
                         .count = TESTS,
                         .step = a->step,
                         .when = a->when,
                         .value = a->value,
                         .weight = a->weight,
                         .error = NAN};
    set_loads(rng, a->load);
    set_tests(rng, a);
}

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *time) {
    qsort(time, RUNS, sizeof *time, by_size);
    return time[RUNS / 2];
}

static double time_fit(const TestData *data, Fit *fit) {
    double time[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = now();
        fit_best(RESPONSE_TWO_COMPONENT, data, fit);
        time[i] = now() - start;
    }
    return median(time);
}

/* The default model, as models/literature.csv has it. */
static Model literature(void) {
    static char name[] = "literature";
    Model m = {.name = name,
               .params = {RESPONSE_GRADED,
                          {[PARAM_K1] = 1,
                           [PARAM_TAU1] = 39,
                           [PARAM_TAU2] = 12,
                           [PARAM_TAU3] = 2.3,
                           [PARAM_RATIO] = 2.1,
                           [PARAM_GROWTH] = .5}}};
    for (int i = 0; i < PARAMS; i++)
        m.spread[i] = NAN;
    m.spread[PARAM_RATIO] = m.spread[PARAM_GROWTH] = m.spread[PARAM_TAU3] = .5;
    m.spread[PARAM_TAU1] = .4;
    m.spread[PARAM_TAU2] = .7;
    return m;
}

static const PosteriorPrior prior = {4.6, .77, .3, 1, true, false};

static double time_posterior(const TestData *data, double *ess) {
    Model model = literature();
    TestGroup kind = {data, prior};
    PosteriorAsked asked = {
        .model = &model, .kind = &kind, .kinds = 1, .seed = POSTERIOR_SEED};
    double time[RUNS];
    for (int i = 0; i < RUNS; i++) {
        Posterior posterior;
        Status status = {0};
        double start = now();
        if (posterior_run(&asked, DRAWS_DEFAULT, &posterior, &status) !=
            STATUS_OK)
            exit(1);
        time[i] = now() - start;
        *ess = posterior.ess;
        posterior_free(&posterior);
    }
    return median(time);
}

static void print_numbers(const char *name, const double *value, size_t n) {
    printf(", \"%s\": [", name);
    for (size_t i = 0; i < n; i++)
        printf("%s%.17g", i ? ", " : "", value[i]);
    printf("]");
}

static void print_athlete(const Athlete *a) {
    Fit fit;
    double ess, step[TESTS], fit_ms = time_fit(&a->data, &fit);
    double posterior_ms = time_posterior(&a->data, &ess);
    for (size_t i = 0; i < TESTS; i++)
        step[i] = (double)a->step[i];
    printf("{\"fit_ms\": %.6f, \"posterior_ms\": %.6f, \"rss\": %.17g, "
           "\"ess\": %.6g, \"before\": %.17g",
           fit_ms, posterior_ms, fit.rss, ess, a->data.timeline.before);
    print_numbers("load", a->load, DAYS);
    print_numbers("step", step, TESTS);
    print_numbers("value", a->value, TESTS);
    print_numbers("prior",
                  (const double[]){prior.effect, prior.sigma,
                                   prior.sigma_spread, prior.trend},
                  4);
    printf("}");
}

int main(int count, char **words) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    int athletes = count > 1 ? atoi(words[1]) : ATHLETES;
    static Athlete a;
    /* as in peakward, where what else is in use keeps the heap from being given
       back after each run and its pages from being faulted in again */
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    mallopt(M_MMAP_THRESHOLD, 1 << 25);
    gsl_rng_set(rng, 20260);
    printf("[");
    for (int i = 0; i < athletes; i++) {
        athlete_make(rng, &a);
        print_athlete(&a);
        printf(i + 1 < athletes ? ",\n" : "]\n");
    }
    gsl_rng_free(rng);
    return 0;
}
