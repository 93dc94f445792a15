/* experiment: virtual athletes: their truth against a plain sum over the
 * loads; the size of a trial against R.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "answers/experiment.h"
#include "answers/trial.h"
#include "answers/virtual.h"
#include "response/kernel.h"

#include <math.h>
#include <stdlib.h>

/* Of R 4.2: power.t.test(n = n, delta = effect, sd = 1)$power, and
 * ceiling(power.t.test(delta = effect, sd = 1, power = power)$n); of 2 athletes
 * the power at 6 SDs is .8357. */
static const struct {
    double effect, n, power;
} r_power[] = {
    {.2, 2, .0337463354},  {.2, 20, .0895807107},  {.2, 200, .5140433946},
    {.5, 5, .1038399490},  {.5, 20, .3377083656},  {.5, 64, .8014586234},
    {.8, 12, .4656974176}, {.8, 20, .6933994443},  {1, 5, .2859275977},
    {1, 20, .8689528017},  {1.3, 12, .8605228753}, {2, 5, .7905416315},
};
static const struct {
    double effect, power, size;
} r_size[] = {
    {.05, .8, 6281}, {.1, .8, 1571}, {.1, .9, 2103}, {.2, .8, 394},
    {.2, .9, 527},   {.35, .8, 130}, {.5, .8, 64},   {.5, .9, 86},
    {.8, .8, 26},    {.8, .9, 34},   {1, .8, 17},    {1, .9, 23},
    {1.3, .8, 11},   {1.3, .9, 14},  {2, .8, 6},     {2, .9, 7},
    {6, .8, 2},
};

static void trial_against_r(void) {
    test_evidence("R, power.t.test", "power of a trial of two groups");
    for (size_t i = 0; i < sizeof r_power / sizeof *r_power; i++)
        ASSERT_NEAR(trial_power(r_power[i].effect, r_power[i].n),
                    r_power[i].power, 2e-4);
    for (size_t i = 0; i < sizeof r_size / sizeof *r_size; i++) {
        CU_ASSERT_EQUAL(trial_size(r_size[i].effect, r_size[i].power),
                        r_size[i].size);
        CU_ASSERT_EQUAL(trial_size(-r_size[i].effect, r_size[i].power),
                        r_size[i].size);
    }
    CU_ASSERT(isnan(trial_size(1e-5, .8)));
}

/* Readiness in the morning of day `last` as a plain double sum over the loads,
 * training before the first day being steady for 4000 days. */
static double plain(const ResponseParams *p, const double *day, int last,
                    const double *cut, int days) {
    const double *v = p->value;
    double sum = 0, memory = 0, mean = 0;
    for (int i = 0; i < 7; i++)
        mean += day[i] / 7;
    for (int i = -4000; i < last; i++) {
        double load = i < 0 ? mean : day[i % 7];
        int before = last - i;
        if (before <= days)
            load *= 1 - cut[before - 1];
        memory = memory * exp(-1 / v[PARAM_TAU3]) + load;
        sum += load * v[PARAM_K1] * exp(-before / v[PARAM_TAU1]);
        sum -=
            load * v[PARAM_K1] * v[PARAM_RATIO] * exp(-before / v[PARAM_TAU2]) *
            (1 - v[PARAM_GROWTH] +
             v[PARAM_GROWTH] * memory * (1 - exp(-1 / v[PARAM_TAU3])) / mean);
    }
    return sum;
}

/* SD of readiness in the 28 mornings up to day `last`, without a taper. */
static double plain_sd(const ResponseParams *p, const double *day, int last) {
    double reading[28], mean = 0, squares = 0;
    for (int i = 0; i < 28; i++) {
        reading[i] = plain(p, day, last - i, NULL, 0);
        mean += reading[i] / 28;
    }
    for (int i = 0; i < 28; i++)
        squares += pow(reading[i] - mean, 2);
    return sqrt(squares / 27);
}

static void check_run(void *with, const ExperimentRun *run,
                      const ExperimentSum *sum) {
    const Design *design = with;
    const DesignValue *at[FACTORS];
    double cut[OPTION_LONGEST] = {0}, gain, sd;
    int weeks, days;
    (void)sum;
    design_at(design, run->combination, at);
    weeks = (int)at[FACTOR_WEEKS]->number;
    days = option_days(&at[FACTOR_TAPER]->option);
    option_cuts(&at[FACTOR_TAPER]->option, (size_t)days, cut);
    gain = plain(&run->truth, at[FACTOR_LOAD]->day, 7 * weeks, cut, days) -
           plain(&run->truth, at[FACTOR_LOAD]->day, 7 * weeks, cut, 0);
    sd = plain_sd(&run->truth, at[FACTOR_LOAD]->day, 7 * weeks);
    CU_ASSERT_DOUBLE_EQUAL(run->moved, sd, 1e-7 * sd);
    CU_ASSERT_DOUBLE_EQUAL(run->gain, gain, 1e-7 * (1 + fabs(gain)));
    CU_ASSERT(run->attainable >= run->gain);
    CU_ASSERT(run->truth.value[PARAM_TAU1] > run->truth.value[PARAM_TAU2]);
}

static void truth_is_the_model(void) {
    Design design;
    Notes notes = {0};
    Status status = {0};
    ExperimentSum *sums;
    design_read(&design, NULL, &notes);
    CU_ASSERT_EQUAL(notes.errors, 0);
    CU_ASSERT_EQUAL(design_combinations(&design), 4);
    sums = calloc(4, sizeof *sums);
    ExperimentTask task = {
        .design = &design, .athletes = 10, .seed = 7, .threads = 2};
    CU_ASSERT_EQUAL(experiment_run(&task, check_run, &design, sums, &status),
                    STATUS_OK);
    CU_ASSERT_EQUAL(sums[3].runs, 10);
    free(sums);
    design_free(&design);
    notes_free(&notes);
}

static void no_row(void *with, const ExperimentRun *run,
                   const ExperimentSum *sum) {
    (void)with;
    (void)run;
    (void)sum;
}

/* Two units of load: other gains, the same in SDs. */
static void unit_of_load(void) {
    Design design;
    Notes notes = {0};
    Status status = {0};
    ExperimentSum sums[2];
    design_read(&design, "tests/study/units.csv", &notes);
    CU_ASSERT_EQUAL_FATAL(design_combinations(&design), 2);
    ExperimentTask task = {
        .design = &design, .athletes = 50, .seed = 3, .threads = 1};
    CU_ASSERT_EQUAL(experiment_run(&task, no_row, NULL, sums, &status),
                    STATUS_OK);
    double a = experiment_in_sds(&sums[0], sums[0].mean);
    double b = experiment_in_sds(&sums[1], sums[1].mean);
    CU_ASSERT_DOUBLE_EQUAL(sums[0].mean, 1000 * sums[1].mean,
                           1e-6 * fabs(sums[0].mean));
    CU_ASSERT_DOUBLE_EQUAL(a, b, 1e-6 * fabs(a));
    design_free(&design);
    notes_free(&notes);
}

typedef struct {
    double first, squares, products;
    size_t count;
} Pairs;

/* ln(ratio) about its centre, 2.1, of squads of two. */
static void take_pair(void *with, const ExperimentRun *run,
                      const ExperimentSum *sum) {
    Pairs *p = with;
    double off = log(run->truth.value[PARAM_RATIO] / 2.1);
    (void)sum;
    p->squares += off * off;
    if (p->count++ % 2)
        p->products += p->first * off;
    p->first = off;
}

/* Athletes of a squad share a centre: SD .35 of the .50 that all have. */
static void squads_share_a_centre(void) {
    Design design;
    Notes notes = {0};
    Status status = {0};
    ExperimentSum sums[1];
    Pairs pairs = {0};
    design_read(&design, "tests/study/pairs.csv", &notes);
    CU_ASSERT_EQUAL_FATAL(design_combinations(&design), 1);
    ExperimentTask task = {
        .design = &design, .athletes = 2000, .seed = 5, .threads = 2};
    CU_ASSERT_EQUAL(experiment_run(&task, take_pair, &pairs, sums, &status),
                    STATUS_OK);
    CU_ASSERT_DOUBLE_EQUAL(pairs.squares / 2000, .50 * .50, .025);
    CU_ASSERT_DOUBLE_EQUAL(pairs.products / 1000, .35 * .35, .025);
    CU_ASSERT(experiment_half_width(sums) >
              1.96 * experiment_sd(sums) / sqrt(2000.));
    design_free(&design);
    notes_free(&notes);
}

/* Sums over athletes of what their tests are off, in SDs of what training
 * moves. */
typedef struct {
    double squares, beside, trend, cross;
    size_t count, pairs;
} Errors;

static void add_errors(const VirtualTests *t, const double *readiness,
                       double moved, double time, Errors *e) {
    double before = 0;
    for (size_t i = 0; i < t->count; i++) {
        double error = (t->value[i] - readiness[t->day[i]]) / moved;
        double season = (double)t->day[i] / 182;
        e->squares += error * error;
        e->trend += season * season;
        e->count++;
        if (i > 0) {
            double gap = (double)(t->day[i] - t->day[i - 1]);
            e->cross += error * before;
            e->beside += time > 0 ? exp(-gap / time) : 0;
            e->pairs++;
        }
        before = error;
    }
}

/* Errors of 1000 athletes' tests by tests/study/errors.csv, one of its
 * combinations; the truth from a plain run of the kernel. */
static Errors errors_of(const DesignValue *const at[FACTORS]) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    Errors e = {0};
    ResponseParams truth = at[FACTOR_MODEL]->model.params;
    VirtualWay *way = malloc(sizeof *way);
    VirtualTests *tests = malloc(sizeof *tests);
    VirtualStand stand;
    double *readiness = malloc(2 * (VIRTUAL_DAYS + 1) * sizeof *readiness);
    double *fatigue = readiness + VIRTUAL_DAYS + 1, moved;
    virtual_way(at, rng, way);
    response_settle(&truth, way->mean);
    virtual_stand(&truth, way, VIRTUAL_WINDOW, &stand);
    moved = virtual_moved(&stand);
    kernel_run(&truth, &(Timeline){way->days, NULL, way->load, way->before, 1},
               READ_BEFORE, readiness, fatigue);
    for (size_t i = 0; i < way->days; i++)
        readiness[i] -= fatigue[i];
    for (int i = 0; i < 1000; i++) {
        virtual_tests(at, &stand, moved, rng, tests);
        CU_ASSERT(tests->count >= 6 && tests->count <= 10);
        add_errors(tests, readiness, moved, at[FACTOR_ERROR_TIME]->number, &e);
    }
    free(readiness);
    free(tests);
    free(way);
    gsl_rng_free(rng);
    return e;
}

/* Variance of a test's error: noise^2 (1 + 8 share of outliers, which have
 * three times the noise) + drift^2 E t^2; covariance of neighbours: noise^2
 * e^(-gap/correlation time), times what outliers make of both. */
static void tests_err_as_asked(void) {
    Design design;
    Notes notes = {0};
    const DesignValue *at[FACTORS];
    design_read(&design, "tests/study/errors.csv", &notes);
    CU_ASSERT_EQUAL_FATAL(notes.errors, 0);
    for (size_t i = 0; i < design_combinations(&design); i++) {
        Errors e;
        double noise, drift, outliers, variance, both;
        design_at(&design, i, at);
        noise = at[FACTOR_NOISE]->number;
        drift = at[FACTOR_DRIFT]->number;
        outliers = at[FACTOR_OUTLIERS]->number / 100;
        e = errors_of(at);
        variance = noise * noise * (1 + 8 * outliers) +
                   drift * drift * e.trend / (double)e.count;
        CU_ASSERT_DOUBLE_EQUAL(e.squares / (double)e.count, variance,
                               .07 * variance);
        if (drift > 0)
            continue;
        both = noise * noise * pow(1 + 2 * outliers, 2);
        CU_ASSERT_DOUBLE_EQUAL(e.cross / (double)e.pairs,
                               both * e.beside / (double)e.pairs,
                               .05 * variance);
    }
    design_free(&design);
    notes_free(&notes);
}

static const TestCase cases[] = {
    {"trial_against_r", trial_against_r},
    {"truth_is_the_model", truth_is_the_model},
    {"unit_of_load", unit_of_load},
    {"squads_share_a_centre", squads_share_a_centre},
    {"tests_err_as_asked", tests_err_as_asked},
    {NULL, NULL}};

const TestSuite suite_answers_experiment = {"answers", cases};
