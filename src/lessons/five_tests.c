/* five_tests: see five_tests.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/five_tests.h"

#include "base/mem.h"
#include "calibrate/posterior.h"
#include "calibrate/typical.h"
#include "cases/athlete_tests.h"
#include "lessons/curves.h"
#include "lessons/example_logs.h"
#include "lessons/ridge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TAPER = 14 /* [d] behind the log, at half of its mean */ };

static size_t parameters(ResponseKind kind) {
    size_t count = 0;
    for (int i = 0; i < PARAMS; i++)
        count += response_has(kind, (Param)i);
    return count;
}

static const char *number_word(size_t number) {
    static const char *const words[] = {"none", "one",  "two", "three",
                                        "four", "five", "six", "seven"};
    return number < 8 ? words[number] : "many";
}

/* The log, then two weeks of its mean, cut by `cut`, and the event's day. */
static double *ahead(const LessonSeries *s, double cut) {
    double mean = 0, *load = mem_new(s->days + TAPER + 1, sizeof *load);
    for (size_t i = 0; i < s->days; i++)
        mean += s->load[i] / (double)s->days;
    memcpy(load, s->load, s->days * sizeof *load);
    for (size_t i = s->days; i < s->days + TAPER; i++)
        load[i] = (1 - cut) * mean;
    return load;
}

static void add_curves(Lesson *l, const Bundle *b, const Timeline *taper,
                       const LessonSeries *s) {
    LessonPicture *p = &l->picture;
    lesson_days(l, -(int)s->days - TAPER, taper->steps,
                "days before the event (day 0)");
    text_clear(&l->label);
    text_add(&l->label, "%s", s->unit);
    p->y_label = text_of(&l->label);
    for (size_t k = 0; k < b->count; k++) {
        char name[16];
        LessonRun run = {NULL, NULL, NULL};
        snprintf(name, sizeof name, "%c", (char)('A' + k));
        run.readiness = lesson_curve(l, name, NAN);
        lesson_run(&b->curve[k].params, taper->load, taper->steps,
                   taper->before, &run);
    }
    p->points_marked = s->data.count;
    p->mark_name = "tests, typical error";
    p->mark_error = s->error;
    for (size_t i = 0; i < s->data.count && i < LESSON_MARKS; i++) {
        p->mark_x[i] = l->x[s->data.step[i]];
        p->mark_y[i] = s->data.value[i];
    }
}

static const GridColumn columns[] = {
    {"curve", false},       {"p0", true},       {"k1", true},
    {"k2", true},           {"tau1,\nd", true}, {"tau2,\nd", true},
    {"tau_rise,\nd", true}, {"k3", true},       {"tau3,\nd", true},
    {"ratio", true},        {"growth", true},   {"t_n,\nd", true},
    {"misfit", true},       {"gain", true}};

_Static_assert(sizeof columns / sizeof *columns == PARAMS + 4,
               "a column for each parameter, and four more");

/* A row a curve; the columns of parameters that the kind does not have are
 * left out. */
static void add_table(Lesson *l, const Bundle *b) {
    ResponseKind kind = l->params->kind;
    size_t count = 0;
    l->columns = mem_new(PARAMS + 4, sizeof *l->columns);
    l->columns[count++] = columns[0];
    for (int i = 0; i < PARAMS; i++)
        if (response_has(kind, (Param)i))
            l->columns[count++] = columns[1 + i];
    for (int i = 1 + PARAMS; i < 4 + PARAMS; i++)
        if (i > 1 + PARAMS || (lesson_tires(l) && response_linear(kind)))
            l->columns[count++] = columns[i];
    grid_start(&l->table, l->columns, (int)count);
    for (size_t k = 0; k < b->count; k++) {
        const BundleCurve *c = &b->curve[k];
        double t_n = landmarks_of(&c->params).t_n;
        grid_cell(&l->table, "%c", (char)('A' + k));
        for (int i = 0; i < PARAMS; i++)
            if (response_has(kind, (Param)i))
                grid_cell(&l->table, "%.5g", c->params.value[i]);
        if (lesson_tires(l) && response_linear(kind))
            grid_cell(&l->table, isfinite(t_n) ? "%.1f" : "none", t_n);
        grid_cell(&l->table, "%.2f", c->misfit);
        grid_cell(&l->table, "%+.2f", c->gain);
    }
    text_add(
        &l->caption,
        "Misfit: root mean square at the tests. Gain: of two weeks at half "
        "of the mean training over no taper. Both in the test's unit, %s. ",
        text_of(&l->label));
}

static void say_fitting(Lesson *l, const Bundle *b, const LessonSeries *s) {
    text_add(
        &l->caption,
        "An invented athlete (data/lessons/five-tests). Of %zu parameter "
        "sets, drawn from the published values as these tests weigh them, "
        "so fitted already, %zu meet all the tests to within their typical "
        "error of %.2g. ",
        b->drawn, b->fitting, s->error);
    if (b->fitting >= b->count)
        text_add(
            &l->caption,
            "Shown: %s of them, picked at even steps from nearly the smallest "
            "gain to nearly the largest: how far apart such sets lie, not "
            "how many lie there.",
            number_word(b->count));
    else
        text_add(&l->caption, "The %s that miss least are drawn.",
                 number_word(b->count));
}

static void say_bundle(Lesson *l, const Bundle *b, const LessonSeries *s) {
    size_t free = parameters(l->params->kind);
    size_t last = l->table.cell_count - 1;
    double spread = b->curve[b->count - 1].gain - b->curve[0].gain;
    say_fitting(l, b, s);
    text_add(&l->words,
             b->fitting >= b->count
                 ? "Where tests are the curves agree; between and behind them "
                   "they part: "
                 : "This kind is too poor to meet the tests. A kind with more "
                   "parameters would meet them, and then many sets do: ");
    text_add(&l->words,
             "two weeks at half would change the event by %s under curve A and "
             "by %s under curve %c. ",
             l->table.cells[l->table.count - 1], l->table.cells[last],
             (char)('A' + b->count - 1));
    lesson_truth(l, spread, s->unit);
    if (free >= s->data.count)
        text_add(&l->words,
                 "With %s parameters and %s tests a close fit is to be "
                 "expected, though not of any tests whatever, since gains "
                 "cannot be negative: it is little evidence. ",
                 number_word(free), number_word(s->data.count));
}

static StatusCode draw(const Lesson *l, const LessonSeries *s,
                       Posterior *posterior) {
    size_t alone[LESSON_MARKS] = {0};
    SquadReadings readings = {s->data.count, s->data.value, alone};
    TestGroup kind = {&s->data, {.effect = 0}};
    Model prior;
    PosteriorAsked asked = {
        .model = &prior, .kind = &kind, .kinds = 1, .seed = l->question->seed};
    if (s->data.count < 3 || s->data.count > LESSON_MARKS || !(s->error > 0))
        return status_fail(l->status, STATUS_DATA,
                           "%s/tests.csv: %zu tests in the log, expected 3 to "
                           "%d, the last with its typical error",
                           s->path, s->data.count, LESSON_MARKS);
    kind.prior = posterior_prior(&s->data, typical_spread(&readings));
    athlete_tests_prior(l->model, &prior);
    return posterior_run(&asked, DRAWS_DEFAULT, posterior, l->status);
}

void bundle_lesson(Lesson *l) {
    LessonSeries s;
    Posterior posterior = {.sigma = NULL};
    if (series_read("five-tests", l->question, &s, l->status) == STATUS_OK &&
        draw(l, &s, &posterior) == STATUS_OK) {
        double *usual = ahead(&s, 0), *half = ahead(&s, .5);
        Timeline none = {s.days + TAPER + 1, NULL, usual, s.before, 1};
        Timeline taper = none;
        Bundle b;
        taper.load = half;
        bundle_pick(&posterior.draws, &s.data, s.error, &none, &taper, &b);
        add_curves(l, &b, &taper, &s);
        add_table(l, &b);
        say_bundle(l, &b, &s);
        free(usual);
        free(half);
    }
    posterior_free(&posterior);
    series_free(&s);
}
