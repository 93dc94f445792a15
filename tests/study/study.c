/* study: is fitting worth it? Athletes are drawn from a prior; for each one
 * taper is chosen by a rule; regret is what the best taper would have gained
 * beyond it, as a share of all that could be gained.
 *
 * Rules: two weeks at 50/75 %; three days' rest; the literature's centre; least
 * squares; the posterior (largest mean gain over its draws). The true shapes
 * lie about the literature's centre as athletes of one study do (log spreads
 * .3, .4, .3), or about another one (tau1 30 d, tau2 7 d, rho 1.4) that the
 * program does not know of; its own prior is wider, as published studies differ
 * among one another.
 *
 * `make study` prints the table that README shows.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/fit.h"
#include "calibrate/posterior.h"
#include "taper/option.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { DAYS = 182, LENGTH = 28, TESTS_MOST = 16, DRAWS = 512, RULES = 5 };

static const char *const rules[RULES] = {"7x50,7x75", "3x100", "literature",
                                         "least squares", "posterior"};

/* Planned loads of the last four weeks: a week like the demo's. */
static const double week[7] = {400, 450, 360, 710, 200, 450, 0};

/* The tapers to choose from: steps of 5 % up to 75 %, one to 28 days, three
 * days' rest, the two-week rule, and none. */
typedef struct {
    double cut[LENGTH]; /* of day u before the event, as a share */
} Taper;

static Taper tapers[LENGTH * 15 + 3];
static size_t taper_count;

static void add_taper(const char *spec) {
    Option option;
    char why[OPTION_WHY];
    if (!option_read(spec, &option, why))
        exit(1);
    option_cuts(&option, LENGTH, tapers[taper_count++].cut);
}

/* 0: none, 1: two weeks, 2: rest, then the steps. */
static void list_tapers(void) {
    char spec[32];
    add_taper("none");
    add_taper(rules[0]);
    add_taper(rules[1]);
    for (int days = 1; days <= LENGTH; days++)
        for (int cut = 5; cut <= 75; cut += 5) {
            snprintf(spec, sizeof spec, "%dx%d", days, cut);
            add_taper(spec);
        }
}

static double gain_of(const ResponseParams *p, const Taper *taper) {
    double gain = 0;
    for (int u = 1; u <= LENGTH; u++)
        if (taper->cut[u - 1] > 0)
            gain -=
                taper->cut[u - 1] * week[(28 - u) % 7] * kernel_influence(p, u);
    return gain;
}

static size_t best_of(const double *gain) {
    size_t best = 0;
    for (size_t i = 1; i < taper_count; i++)
        if (gain[i] > gain[best])
            best = i;
    return best;
}

/* Adds the gains of one model, times `weight`. */
static void add_gains(const ResponseParams *p, double weight, double *gain) {
    double influence[LENGTH];
    for (int u = 1; u <= LENGTH; u++)
        influence[u - 1] = weight * week[(28 - u) % 7] * kernel_influence(p, u);
    for (size_t i = 0; i < taper_count; i++)
        for (int u = 0; u < LENGTH; u++)
            gain[i] -= tapers[i].cut[u] * influence[u];
}

static size_t choose(const ResponseParams *set, size_t count) {
    double gain[LENGTH * 15 + 3] = {0};
    for (size_t i = 0; i < count; i++)
        add_gains(&set[i], 1.0 / (double)count, gain);
    return best_of(gain);
}

typedef struct {
    double tau1, tau2, rho;
} Centre;

static Model literature(void) {
    static char name[] = "literature";
    Model m = {
        .name = name,
        .params = {RESPONSE_TWO_COMPONENT, {0, 1, 1.9, 42, 13, NAN, NAN, NAN}}};
    for (int i = 0; i < PARAMS; i++)
        m.spread[i] = NAN;
    m.spread[PARAM_TAU1] = .4;
    m.spread[PARAM_TAU2] = .7;
    m.spread[PARAM_K2] = .5;
    return m;
}

/* Shape about a centre; scale so that training moves the test by some 4 % of
 * its level (SD over the log), level 100. */
static ResponseParams draw_truth(gsl_rng *rng, const Centre *c,
                                 const Timeline *t) {
    ResponseParams p = literature().params;
    double f[DAYS], g[DAYS], mean = 0, square = 0;
    do {
        p.value[PARAM_TAU1] = c->tau1 * exp(.3 * gsl_ran_gaussian(rng, 1));
        p.value[PARAM_TAU2] = c->tau2 * exp(.4 * gsl_ran_gaussian(rng, 1));
    } while (p.value[PARAM_TAU1] <= 1.3 * p.value[PARAM_TAU2]);
    p.value[PARAM_K2] = c->rho * exp(.3 * gsl_ran_gaussian(rng, 1));
    kernel_run(&p, t, READ_BEFORE, f, g);
    for (int i = 0; i < DAYS; i++)
        mean += (f[i] - g[i]) / DAYS;
    for (int i = 0; i < DAYS; i++)
        square += pow(f[i] - g[i] - mean, 2) / DAYS;
    p.value[PARAM_K1] = 4 * fabs(gsl_ran_gaussian(rng, 1)) / sqrt(square);
    p.value[PARAM_K2] *= p.value[PARAM_K1];
    p.value[PARAM_P0] = 100 - p.value[PARAM_K1] * mean;
    return p;
}

/* One athlete: log and tests. */
typedef struct {
    double load[DAYS], value[TESTS_MOST], weight[TESTS_MOST];
    size_t step[TESTS_MOST];
    ReadWhen when[TESTS_MOST];
    TestData data;
    ResponseParams truth;
} Case;

static void make_athlete(gsl_rng *rng, const Centre *c, size_t tests,
                         double noise, Case *a) {
    double f[DAYS], g[DAYS];
    a->data = (TestData){.count = tests,
                         .step = a->step,
                         .when = a->when,
                         .value = a->value,
                         .weight = a->weight,
                         .error = NAN};
    for (int i = 0; i < DAYS; i++)
        a->load[i] = week[i % 7] * (i / 7 % 4 == 3 ? .6 : 1) *
                     (.7 + .6 * gsl_rng_uniform(rng));
    a->data.timeline = (Timeline){
        .steps = DAYS, .load = a->load, .before = 340, .before_age = 1};
    a->truth = draw_truth(rng, c, &a->data.timeline);
    kernel_run(&a->truth, &a->data.timeline, READ_BEFORE, f, g);
    for (size_t i = 0; i < tests; i++) {
        size_t day =
            (size_t)(((double)i + gsl_rng_uniform(rng)) * DAYS / (double)tests);
        a->step[i] = day;
        a->when[i] = READ_BEFORE;
        a->weight[i] = 1;
        a->value[i] = a->truth.value[PARAM_P0] + f[day] - g[day] +
                      gsl_ran_gaussian(rng, noise);
    }
}

/* The taper each rule chooses. */
static void apply_rules(const Case *a, unsigned long seed,
                        size_t chosen[RULES]) {
    Model model = literature();
    PosteriorPrior prior = posterior_prior(&a->data);
    Posterior posterior;
    Status status = {0};
    chosen[0] = 1;
    chosen[1] = 2;
    chosen[2] = choose(&model.params, 1);
    chosen[3] = chosen[2]; /* without tests there is nothing to fit */
    if (a->data.count > 0) {
        Fit fit;
        fit_best(RESPONSE_TWO_COMPONENT, &a->data, &fit);
        chosen[3] = choose(&fit.params, 1);
    }
    if (posterior_run(&model, &a->data, &prior, DRAWS, seed, &posterior,
                      &status) != STATUS_OK)
        exit(1);
    chosen[4] = choose(posterior.draws.set, posterior.draws.count);
    posterior_free(&posterior);
}

static void run_row(const Centre *c, size_t tests, double noise, int athletes) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    double lost[RULES] = {0}, attainable = 0;
    gsl_rng_set(rng, 20261125);
    for (int i = 0; i < athletes; i++) {
        static Case a;
        size_t chosen[RULES];
        double gain[LENGTH * 15 + 3] = {0};
        make_athlete(rng, c, tests, noise, &a);
        add_gains(&a.truth, 1, gain);
        attainable += gain[best_of(gain)];
        apply_rules(&a, (unsigned long)i + 1, chosen);
        for (int r = 0; r < RULES; r++)
            lost[r] +=
                gain[best_of(gain)] - gain_of(&a.truth, &tapers[chosen[r]]);
    }
    printf("| %zu | %.2g |", tests, noise);
    for (int r = 0; r < RULES; r++)
        printf(" %.2f |", lost[r] / attainable);
    printf("\n");
    fflush(stdout);
    gsl_rng_free(rng);
}

int main(int count, char **words) {
    static const Centre centres[] = {{42, 13, 1.9}, {30, 7, 1.4}};
    static const size_t tests[] = {0, 3, 5, 8, 16};
    static const double noises[] = {2, .5};
    int athletes = count > 1 ? atoi(words[1]) : 1000;
    gsl_set_error_handler_off();
    list_tapers();
    for (int c = 0; c < 2; c++) {
        printf("\n%s: %d athletes, regret as a share of what the best taper "
               "could gain\n\n| tests | noise |",
               c ? "A wrong prior (true centre tau1 30, tau2 7, k2/k1 1.4)"
                 : "Athletes about the literature's centre",
               athletes);
        for (int r = 0; r < RULES; r++)
            printf(" %s |", rules[r]);
        printf("\n|---|---|---|---|---|---|---|\n");
        for (int n = 0; n < 2; n++)
            for (int t = 0; t < 5; t++)
                if (n == 0 || tests[t] > 0)
                    run_row(&centres[c], tests[t], noises[n], athletes);
    }
    return 0;
}
