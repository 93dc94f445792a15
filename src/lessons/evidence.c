/* evidence: see evidence.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/evidence.h"

#include "base/mem.h"
#include "calibrate/fit.h"
#include "lessons/curves.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

static gsl_rng *begin_draws(const Lesson *l) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, l->question->seed);
    return rng;
}

/* ---- one factor or two ---- */

enum { BLOCK = 28, AFTER = 56, LONE = BLOCK + AFTER + 1 };

/* One factor: each session begins its own course, a fall, a rise above the
 * level and a slow return, from where readiness stands; what there was before
 * fades as fitness does. The course is that of the model's lone session. */
static void one_factor(const Lesson *l, const double *lone, double *y) {
    double keep = exp(-1 / l->params->value[PARAM_TAU1]), stands = 0;
    int since = 0;
    y[0] = 0;
    for (int day = 1; day < LONE; day++) {
        since = day <= BLOCK ? 1 : since + 1;
        stands *= keep;
        y[day] = stands + lone[since];
        if (day < BLOCK)
            stands = y[day];
    }
}

static void factors_row(Lesson *l, const char *when, double one, double two) {
    grid_cell(&l->table, "%s", when);
    lesson_cell(l, one);
    lesson_cell(l, two);
    lesson_cell(l, two - one);
}

static void factors_table(Lesson *l, const double *lone, const double *one,
                          const double *two) {
    static const GridColumn columns[] = {{"tested", false},
                                         {"one\nfactor", true},
                                         {"two\nfactors", true},
                                         {"apart", true}};
    grid_start(&l->table, columns, 4);
    factors_row(l, "7 days after one session", lone[7], lone[7]);
    factors_row(l, "21 days after one session", lone[21], lone[21]);
    factors_row(l, "the day after the block", one[BLOCK], two[BLOCK]);
    factors_row(l, "7 days later", one[BLOCK + 7], two[BLOCK + 7]);
    factors_row(l, "21 days later", one[BLOCK + 21], two[BLOCK + 21]);
    text_add(&l->caption,
             "Readiness over its level, in %s. The block: %d days of %.4g, "
             "then nothing.",
             lesson_unit(l), BLOCK, l->usual);
}

void evidence_factors(Lesson *l) {
    double load[LESSON_POINTS] = {l->usual}, level = l->params->value[PARAM_P0];
    double *two = lesson_curve(l, "two factors", NAN);
    double *one = lesson_curve(l, "one factor", NAN);
    double *lone = lesson_curve(l, "either: one session", NAN);
    LessonRun run = {NULL, NULL, lone};
    const char *const *row;
    lesson_days(l, 0, LONE, "days from the block's first session");
    lesson_run(l->params, load, LONE, 0, &run);
    for (int i = 0; i < BLOCK; i++)
        load[i] = l->usual;
    run.readiness = two;
    lesson_run(l->params, load, LONE, 0, &run);
    for (int i = 0; i < LONE; i++) {
        lone[i] -= level;
        two[i] -= level;
    }
    one_factor(l, lone, one);
    factors_table(l, lone, one, two);
    row = (const char *const *)l->table.cells + 16; /* 21 days later */
    lesson_truth(l, two[BLOCK + 21], lesson_unit(l));
    if (!lesson_tires(l))
        text_add(&l->words,
                 "This kind of model has one factor that never lowers "
                 "readiness. Both say the same of every day: there is nothing "
                 "to tell apart. ");
    else
        text_add(&l->words,
                 "After one session both say the same on every day, so no test "
                 "of single sessions can tell them apart. After a hard block "
                 "they part: 21 days later one factor says %s, two say %s. "
                 "Data that could decide: tests at the end of hard blocks and "
                 "weeks after, where %s is more than the test's error. ",
                 row[1], row[2], row[3]);
}

/* ---- a fit against a prediction ---- */

enum { SEASONS = 24, DAYS = 85, TESTS = 12, FITTED = 8, RIVALS = 3 };
enum { FIRST = 7, EVERY = 7 /* [d] of tests */ };

/* Of a season of load `load`, tests with noise. */
typedef struct {
    double load[DAYS], value[TESTS], weight[TESTS];
    size_t step[TESTS];
    ReadWhen when[TESTS];
} Season12;

static const ResponseKind fit_kinds[RIVALS] = {
    RESPONSE_ONE_COMPONENT, RESPONSE_TWO_COMPONENT, RESPONSE_VARIABLE_DOSE};

/* Weeks from half to one and a half of the usual load; readiness at the tests
 * is scaled to a mean of 100 and an SD of 2, and each test errs by 1. */
static void draw_season(const Lesson *l, gsl_rng *rng, Season12 *s) {
    double readiness[DAYS], week = 1, mean = 0, square = 0, sd;
    LessonRun run = {NULL, NULL, readiness};
    for (int i = 0; i < DAYS; i++) {
        if (i % 7 == 0)
            week = .5 + gsl_rng_uniform(rng);
        s->load[i] = i % 7 == 6 ? 0 : week * l->usual;
    }
    lesson_run(l->params, s->load, DAYS, l->usual, &run);
    for (int i = 0; i < TESTS; i++) {
        s->step[i] = (size_t)(FIRST + EVERY * i - (i % 2 ? 2 : 0));
        mean += readiness[s->step[i]] / TESTS;
        square += pow(readiness[s->step[i]], 2) / TESTS;
        s->weight[i] = 1;
        s->when[i] = READ_BEFORE;
    }
    sd = sqrt(fmax(square - mean * mean, 0));
    for (int i = 0; i < TESTS; i++) {
        double moved = sd > 0 ? 2 * (readiness[s->step[i]] - mean) / sd : 0;
        s->value[i] = 100 + moved + gsl_ran_gaussian(rng, 1);
    }
}

static void fit_season(ResponseKind kind, double before, Season12 *s,
                       double *said) {
    TestData data = {.timeline = {DAYS, NULL, s->load, before, 1},
                     .count = FITTED,
                     .step = s->step,
                     .when = s->when,
                     .value = s->value,
                     .weight = s->weight,
                     .error = NAN};
    LessonRun run = {NULL, NULL, said};
    Fit fit;
    fit_best(kind, &data, &fit);
    lesson_run(&fit.params, s->load, DAYS, before, &run);
}

/* Sums of squared errors, of the tests that were fitted and of those kept. */
static void add_errors(const Season12 *s, const double *said, double sum[2]) {
    for (int i = 0; i < TESTS; i++)
        sum[i >= FITTED] += pow(said[s->step[i]] - s->value[i], 2);
}

static void draw_first(Lesson *l, const Season12 *s) {
    LessonPicture *p = &l->picture;
    p->points_marked = TESTS;
    p->mark_name = "tests; the last 4 were kept back";
    p->mark_error = 1;
    for (int i = 0; i < TESTS; i++) {
        p->mark_x[i] = (double)s->step[i];
        p->mark_y[i] = s->value[i];
    }
}

static const char *const kind_titles[RIVALS] = {
    "one component", "two components", "variable dose"};

static void prediction_table(Lesson *l, double sum[RIVALS][2],
                             double first[RIVALS][2]) {
    static const GridColumn columns[] = {
        {"fitted", false},        {"para-\nmeters", true},
        {"error,\nfitted", true}, {"error,\nkept back", true},
        {"drawn:\nfitted", true}, {"drawn:\nkept back", true}};
    static const int free[RIVALS] = {3, 5, 6};
    grid_start(&l->table, columns, 6);
    for (int k = 0; k < RIVALS; k++) {
        grid_cell(&l->table, "%s", kind_titles[k]);
        grid_cell(&l->table, "%d", free[k]);
        grid_cell(&l->table, "%.2f", sqrt(sum[k][0] / SEASONS / FITTED));
        grid_cell(&l->table, "%.2f",
                  sqrt(sum[k][1] / SEASONS / (TESTS - FITTED)));
        grid_cell(&l->table, "%.2f", sqrt(first[k][0] / FITTED));
        grid_cell(&l->table, "%.2f", sqrt(first[k][1] / (TESTS - FITTED)));
    }
    text_add(&l->caption,
             "Root mean square over %d invented seasons of this model (the "
             "last two columns: the one drawn), each with %d tests: %d fitted, "
             "the last %d kept back. Training moves the tests by an SD of 2; "
             "each errs by an SD of 1.",
             SEASONS, TESTS, FITTED, TESTS - FITTED);
}

/* Among the kinds the one that fits best and the one that predicts best. */
static void say_prediction(Lesson *l, double sum[RIVALS][2]) {
    const char *const *cell = (const char *const *)l->table.cells;
    int fits = 0, predicts = 0;
    for (int k = 1; k < RIVALS; k++) {
        fits = sum[k][0] < sum[fits][0] ? k : fits;
        predicts = sum[k][1] < sum[predicts][1] ? k : predicts;
    }
    lesson_truth(l,
                 sqrt(sum[fits][1] / (TESTS - FITTED) * FITTED / sum[fits][0]),
                 "times as large");
    text_add(&l->words,
             "The more parameters, the closer the fit: %s fits best, to %s. "
             "But on tests that it has not seen it errs by %s, since it fitted "
             "noise as well. ",
             kind_titles[fits], cell[6 * fits + 2], cell[6 * fits + 3]);
    if (predicts != fits)
        text_add(&l->words, "Best at predicting is %s, with %s. ",
                 kind_titles[predicts], cell[6 * predicts + 3]);
    text_add(&l->words, "A fit is no evidence; a prediction is, if it beats "
                        "the simplest rival. ");
}

void evidence_prediction(Lesson *l) {
    double sum[RIVALS][2] = {{0}}, first[RIVALS][2] = {{0}}, said[DAYS];
    gsl_rng *rng = begin_draws(l);
    lesson_days(l, 0, DAYS, "day");
    l->picture.y_label = "test (invented scale)";
    for (int n = 0; n < SEASONS; n++) {
        Season12 s;
        draw_season(l, rng, &s);
        for (int k = 0; k < RIVALS; k++) {
            fit_season(fit_kinds[k], l->usual, &s,
                       n ? said : lesson_curve(l, kind_titles[k], NAN));
            add_errors(&s, n ? said : l->y[k], sum[k]);
            if (n == 0)
                add_errors(&s, l->y[k], first[k]);
        }
        if (n == 0)
            draw_first(l, &s);
    }
    gsl_rng_free(rng);
    prediction_table(l, sum, first);
    say_prediction(l, sum);
}

/* ---- regression to the mean ---- */

enum { ATHLETES = 160, QUARTER = ATHLETES / 4 };

static const double jump = 40, between = 4, error = 3; /* [cm], invented */

static int by_first(const void *a, const void *b) {
    const double *x = a, *y = b;
    return (x[0] > y[0]) - (x[0] < y[0]);
}

static void retest_row(Lesson *l, const char *who, double pair[][2], int from,
                       int to) {
    double mean[2] = {0};
    for (int i = from; i < to; i++)
        for (int k = 0; k < 2; k++)
            mean[k] += pair[i][k] / (to - from);
    grid_cell(&l->table, "%s", who);
    grid_cell(&l->table, "%d", to - from);
    grid_cell(&l->table, "%.1f", mean[0]);
    grid_cell(&l->table, "%.1f", mean[1]);
    grid_cell(&l->table, "%+.1f", mean[1] - mean[0]);
    if (from == 0 && to == QUARTER)
        lesson_truth(l, mean[1] - mean[0], "cm");
}

static void retest_table(Lesson *l, double pair[][2]) {
    static const GridColumn columns[] = {{"who, by the first test", false},
                                         {"athletes", true},
                                         {"first,\ncm", true},
                                         {"retest,\ncm", true},
                                         {"change,\ncm", true}};
    grid_start(&l->table, columns, 5);
    retest_row(l, "lowest quarter", pair, 0, QUARTER);
    retest_row(l, "middle half", pair, QUARTER, ATHLETES - QUARTER);
    retest_row(l, "highest quarter", pair, ATHLETES - QUARTER, ATHLETES);
    retest_row(l, "all", pair, 0, ATHLETES);
    /* mean of a standard normal's lowest quarter: -1.271 (its density at the
     * quartile over a quarter) */
    text_add(&l->caption,
             "Invented: jumps of %.0f cm, SD between athletes %.0f cm, typical "
             "error of a test %.0f cm, nothing in between. In the long run the "
             "lowest quarter changes by %+.1f cm, 1.271 x error^2 / SD of the "
             "first test.",
             jump, between, error,
             1.271 * error * error / hypot(between, error));
}

void evidence_retest(Lesson *l) {
    double pair[ATHLETES][2];
    double *y[2] = {lesson_curve(l, "first test", NAN),
                    lesson_curve(l, "retest, nothing done in between", NAN)};
    gsl_rng *rng = begin_draws(l);
    lesson_days(l, 1, ATHLETES, "place in the first test, from the lowest");
    l->picture.y_label = "jump [cm]";
    text_clear(&l->subtitle);
    text_add(&l->subtitle, "No model: %d invented athletes", ATHLETES);
    l->picture.subtitle = text_of(&l->subtitle);
    l->modelless = true;
    for (int i = 0; i < ATHLETES; i++) {
        double ability = jump + gsl_ran_gaussian(rng, between);
        for (int k = 0; k < 2; k++)
            pair[i][k] = ability + gsl_ran_gaussian(rng, error);
    }
    gsl_rng_free(rng);
    qsort(pair, ATHLETES, sizeof pair[0], by_first);
    for (int i = 0; i < ATHLETES; i++)
        for (int k = 0; k < 2; k++)
            y[k][i] = pair[i][k];
    retest_table(l, pair);
    text_add(&l->words,
             "Nothing was done, and yet the lowest quarter changed by %s cm, "
             "the highest by %s, all together by %s. Those lowest in one test "
             "are weaker than others and mostly had bad luck that day too; "
             "their next test has luck of its own. Had they been given a "
             "taper, it would have got the credit. ",
             l->table.cells[4], l->table.cells[14], l->table.cells[19]);
}

/* ---- the published tapers ---- */

/* Effect sizes (in SDs between athletes) with 95 % intervals. Bosquet et al.
 * 2007, Med Sci Sports Exerc 39:1358-1365, from the abstract, whose +/- is
 * taken for half of the interval; Vachon et al. 2020, Eur J Sport Sci. */
static const struct {
    const char *what, *who, *source;
    double effect, low, high;
} published[] = {
    {"volume cut 41-60 %", "competitive athletes", "Bosquet 2007", .72, .36,
     1.08},
    {"taper of two weeks", "competitive athletes", "Bosquet 2007", .59, .26,
     .92},
    {"frequency kept", "competitive athletes", "Bosquet 2007", .35, .18, .52},
    {"intensity kept", "competitive athletes", "Bosquet 2007", .33, .19, .47},
    {"VO2max", "team sports", "Vachon 2020", .76, .43, 1.09},
    {"power", "team sports", "Vachon 2020", .44, .32, .56},
    {"repeated sprints", "team sports", "Vachon 2020", .41, .26, .55},
    {"change of direction", "team sports", "Vachon 2020", .38, .15, .60}};

enum { PUBLISHED = sizeof published / sizeof *published };

static void published_table(Lesson *l) {
    static const GridColumn columns[] = {{"what", false},  {"who", false},
                                         {"effect", true}, {"low", true},
                                         {"high", true},   {"source", false}};
    grid_start(&l->table, columns, 6);
    for (int i = 0; i < PUBLISHED; i++) {
        grid_cell(&l->table, "%s", published[i].what);
        grid_cell(&l->table, "%s", published[i].who);
        grid_cell(&l->table, "%.2f", published[i].effect);
        grid_cell(&l->table, "%.2f", published[i].low);
        grid_cell(&l->table, "%.2f", published[i].high);
        grid_cell(&l->table, "%s", published[i].source);
    }
    text_add(
        &l->caption,
        "Effect sizes, in SDs between athletes, with 95 %% intervals. "
        "Bosquet et al. 2007, Med Sci Sports Exerc 39:1358-1365 (of the "
        "abstract; its +/- taken for half of the interval; who they were: from "
        "memory); Vachon et al. 2020, Eur J Sport Sci.");
}

void evidence_published(Lesson *l) {
    double *effect = lesson_curve(l, "effect", NAN);
    double *low = lesson_curve(l, "low", NAN);
    double *high = lesson_curve(l, "high", NAN);
    lesson_days(l, 1, PUBLISHED, "row of the table");
    l->picture.forest = true;
    l->picture.y_label = "effect size, SDs between athletes (95 % interval)";
    text_clear(&l->subtitle);
    text_add(&l->subtitle, "No model: what was published");
    l->picture.subtitle = text_of(&l->subtitle);
    l->modelless = true;
    for (int i = 0; i < PUBLISHED; i++) {
        effect[i] = published[i].effect;
        low[i] = published[i].low;
        high[i] = published[i].high;
        l->picture.row[i] = published[i].what;
    }
    published_table(l);
    lesson_truth(l, published[0].effect, "SDs between athletes");
    text_add(
        &l->words,
        "Cutting volume by 41-60 %% has the largest effect of those on "
        "the design, %s, and it may be as small as %s or as large as %s. "
        "All intervals lie above zero: tapers help on average. They overlap, "
        "so which detail is best is far less sure than that some taper "
        "helps. ",
        l->table.cells[2], l->table.cells[3], l->table.cells[4]);
}
