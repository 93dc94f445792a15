/* tapered: see tapered.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/tapered.h"

#include "base/home.h"
#include "lessons/curves.h"

#include <math.h>
#include <stdlib.h>

enum { POINTS = LESSON_POINTS };

static void fill(double *load, size_t from, size_t to, double value) {
    for (size_t i = from; i < to; i++)
        load[i] = value;
}

/* The memory of load: the model's own, else that of the published
 * variable-dose set. NAN after a failure. */
static double find_tau3(Lesson *l, const char *lesson) {
    double tau3 = l->params->value[PARAM_TAU3];
    Model busso = {0};
    Notes notes = {0};
    char *folder;
    if (!response_linear(l->params->kind))
        return tau3;
    folder = home_folder("models");
    if (model_find("busso-2003", folder, &busso, &notes))
        tau3 = busso.params.value[PARAM_TAU3];
    else
        status_fail(l->status, notes_code(&notes),
                    "lesson %s: %s/busso-2003.csv, from which tau3 is taken, "
                    "cannot be read",
                    lesson, folder);
    free(folder);
    model_free(&busso);
    notes_free(&notes);
    return tau3;
}

/* The same athlete under the other kind. False where there is no such twin. */
static bool find_twin(Lesson *l, const char *lesson, ResponseParams *twin) {
    double tau3;
    if (!lesson_twin(l->params, l->usual, 1, twin))
        return false;
    tau3 = find_tau3(l, lesson);
    return isfinite(tau3) && lesson_twin(l->params, l->usual, tau3, twin);
}

/* ---- overload, then taper ---- */

enum { TAPER_STARTS = 28, EVENT = 42 };

/* Readiness over six weeks: `hard` times the usual load in weeks 2 to 4, then
 * `rest` times it until the event. */
static double *add_weeks(Lesson *l, const char *name, const ResponseParams *p,
                         double hard, double rest) {
    double load[POINTS];
    LessonRun run = {NULL, NULL, lesson_curve(l, name, NAN)};
    fill(load, 0, POINTS, l->usual);
    fill(load, 7, TAPER_STARTS, hard * l->usual);
    fill(load, TAPER_STARTS, EVENT, rest * l->usual);
    lesson_run(p, load, EVENT + 1, l->usual, &run);
    return run.readiness;
}

/* A row of what differs on the taper's first day and at the event. */
static const char *overload_row(Lesson *l, const char *what, const double *y,
                                const double *from) {
    grid_cell(&l->table, "%s", what);
    lesson_cell(l, y[TAPER_STARTS] - from[TAPER_STARTS]);
    return lesson_cell(l, y[EVENT] - from[EVENT]);
}

/* Where the overload's worth with a taper and without is the same in the model,
 * and where it is not. */
static void say_overload(Lesson *l, bool linear, const char *with,
                         const char *without) {
    text_add(&l->words,
             linear ? "by the event the hard weeks add %s with the taper and "
                      "%s without: in a linear model the same, so the taper "
                      "brings out nothing that was not there. "
                    : "by the event the hard weeks add %s with the taper and "
                      "%s without: fatigue grows with the load before, so the "
                      "taper decides what they are worth. ",
             with, without);
}

static void overload_twin(Lesson *l, const ResponseParams *twin) {
    bool linear = response_linear(twin->kind);
    const double *hard, *plain, *on;
    const char *with, *without;
    hard = add_weeks(
        l, linear ? "linear twin: +20 %, half" : "dose twin: +20 %, half", twin,
        1.2, .5);
    plain = add_weeks(
        l, linear ? "linear twin: usual, half" : "dose twin: usual, half", twin,
        1, .5);
    on = add_weeks(l,
                   linear ? "linear twin: +20 %, no taper"
                          : "dose twin: +20 %, no taper",
                   twin, 1.2, 1);
    with = overload_row(l, "twin: the hard weeks, with the taper", hard, plain);
    grid_cell(&l->table, "twin: the hard weeks, without it");
    /* without overload or taper the twin stays where it was */
    lesson_cell(l, on[TAPER_STARTS] - on[0]);
    without = lesson_cell(l, on[EVENT] - on[0]);
    text_add(&l->words,
             "Its %s twin, whose sessions tire as much in usual training, "
             "says: ",
             linear ? "linear" : "variable-dose");
    say_overload(l, linear, with, without);
}

void tapered_overload(Lesson *l) {
    static const GridColumn columns[] = {{"what it changes", false},
                                         {"taper's\nfirst day", true},
                                         {"event", true}};
    const double *hard, *plain, *on, *none;
    const char *taper, *with, *without;
    double part, all;
    ResponseParams twin;
    lesson_days(l, -EVENT, EVENT + 1, "days before the event (day 0)");
    hard = add_weeks(l, "3 weeks +20 %, 2 weeks half", l->params, 1.2, .5);
    plain = add_weeks(l, "usual, 2 weeks half", l->params, 1, .5);
    on = add_weeks(l, "3 weeks +20 %, no taper", l->params, 1.2, 1);
    none = add_weeks(l, "usual, no taper", l->params, 1, 1);
    grid_start(&l->table, columns, 3);
    taper = overload_row(l, "the taper alone", plain, none);
    with = overload_row(l, "the hard weeks, with the taper", hard, plain);
    without = overload_row(l, "the hard weeks, without it", on, none);
    text_add(&l->caption,
             "Readiness over the same without it, in %s. Usual training is "
             "%.4g a day, the hard weeks 3 at 20 %% more, the taper 2 at half.",
             lesson_unit(l), l->usual);
    part = plain[EVENT] - none[EVENT];
    all = hard[EVENT] - none[EVENT];
    lesson_truth(l, part > 0 && all > 0 ? 100 * part / all : NAN, "%");
    text_add(&l->words,
             "The taper alone changes readiness at the event by %s. In this "
             "model ",
             taper);
    say_overload(l, response_linear(l->params->kind), with, without);
    if (find_twin(l, "overload", &twin))
        overload_twin(l, &twin);
}

/* ---- tapers to one date ---- */

static const char *const tapers[] = {"14d-50", "7d-50,7d-75", "14d-0..75",
                                     "14d-100", "none"};
static const char *const taper_names[] = {
    "14 days at half", "a week at half, a week at a quarter",
    "14 days falling to a quarter", "14 days of full rest", "no taper"};

static double add_taper(Lesson *l, size_t k) {
    char why[OPTION_WHY];
    double load[POINTS], cut[21];
    Option option;
    LessonRun run = {NULL, NULL, lesson_curve(l, taper_names[k], NAN)};
    option_read(tapers[k], &option, why);
    option_cuts(&option, 21, cut);
    for (size_t i = 0; i < 22; i++)
        load[i] = i < 21 ? l->usual * (1 - cut[20 - i]) : 0;
    lesson_run(l->params, load, 22, l->usual, &run);
    return lesson_gain(l->params, l->usual, &option);
}

void tapered_options(Lesson *l) {
    static const GridColumn columns[] = {{"taper", false},
                                         {"gain over\nno taper", true}};
    size_t best = 4;
    double gain[5];
    const char *shown[5];
    lesson_days(l, -21, 22, "days before the event (day 0)");
    grid_start(&l->table, columns, 2);
    for (size_t k = 0; k < 5; k++) {
        gain[k] = add_taper(l, k);
        grid_cell(&l->table, "%s", taper_names[k]);
        shown[k] = lesson_cell(l, gain[k]);
    }
    for (size_t k = 0; k < 4; k++)
        best = gain[k] > gain[best] ? k : best;
    text_add(&l->caption, "In %s, from steady training of %.4g a day.",
             lesson_unit(l), l->usual);
    lesson_truth(l, gain[0] > 0 ? gain[3] / gain[0] : NAN, "times as much");
    if (best == 4) {
        text_add(&l->words, "Every one of them costs readiness in this model: "
                            "it has no fatigue to shed. ");
        return;
    }
    text_add(&l->words,
             "Half volume gains %s, full rest %s. Highest in this model: %s. ",
             shown[0], shown[3], taper_names[best]);
    text_add(&l->words,
             response_linear(l->params->kind)
                 ? "In a linear model each day that is cut counts by itself, "
                   "so twice the cut is twice the gain, and the answer is "
                   "built in. "
                 : "Where fatigue grows with load, less training tires less: "
                   "the second half of the cut brings less than the first. ");
}

/* ---- what an optimiser loves ---- */

/* The cut that gains most at a length. */
typedef struct {
    int cut;           /* [%]; 0: no cut gains anything */
    double gain, rest; /* of it, and of full rest */
} BestCut;

static double step_gain(const ResponseParams *p, double usual, int days,
                        double cut) {
    Option o = {.count = 1, .part = {{days, cut, cut, 'x'}}};
    return lesson_gain(p, usual, &o);
}

static BestCut best_cut(const ResponseParams *p, double usual, int days) {
    BestCut best = {.rest = step_gain(p, usual, days, 100)};
    for (int cut = 2; cut <= 100; cut += 2) {
        double gain = step_gain(p, usual, days, cut);
        if (gain > best.gain) {
            best.cut = cut;
            best.gain = gain;
        }
    }
    return best;
}

static void add_gains(Lesson *l, const char *name, const ResponseParams *p,
                      int days) {
    double *y = lesson_curve(l, name, days);
    for (size_t i = 0; i < l->picture.points; i++)
        y[i] = step_gain(p, l->usual, days, l->x[i]);
}

/* Cuts along the horizontal axis. */
static void by_cut(Lesson *l) {
    l->picture.points = 51;
    l->picture.x_label = "cut of each day's volume, %";
    l->picture.y_label = "gain at the event over no taper";
    for (size_t i = 0; i < 51; i++)
        l->x[i] = 2 * (double)i;
}

static void cut_cells(Lesson *l, const BestCut *best) {
    grid_cell(&l->table, best->cut ? "%d" : "none", best->cut);
    lesson_cell(l, best->gain);
    lesson_cell(l, best->rest);
}

static const int lengths[] = {7, 14, 21, 28};

static void optimiser_table(Lesson *l, const ResponseParams *twin) {
    static const GridColumn columns[] = {{"days", true},
                                         {"best\ncut, %", true},
                                         {"gain", true},
                                         {"full rest\ngains", true},
                                         {"twin: best\ncut, %", true},
                                         {"gain", true},
                                         {"full rest\ngains", true}};
    grid_start(&l->table, columns, twin ? 7 : 4);
    for (size_t k = 0; k < 4; k++) {
        BestCut best = best_cut(l->params, l->usual, lengths[k]);
        grid_cell(&l->table, "%d", lengths[k]);
        cut_cells(l, &best);
        if (k == 1)
            lesson_truth(l, best.cut, "%");
        if (twin) {
            best = best_cut(twin, l->usual, lengths[k]);
            cut_cells(l, &best);
        }
    }
    text_add(&l->caption,
             "Cuts in steps of 2 %%, gains in %s. Usual training: %.4g a day.",
             lesson_unit(l), l->usual);
}

static void say_optimiser(Lesson *l, const ResponseParams *twin) {
    const char *const *row =
        (const char *const *)l->table.cells + l->table.count; /* of 14 days */
    bool linear = response_linear(l->params->kind);
    if (!lesson_tires(l)) {
        text_add(&l->words,
                 "It has no fatigue to shed, so each per cent cut costs the "
                 "same and an optimiser says: train on to the last day. It "
                 "cannot say anything about tapers; that is its form, not "
                 "evidence. ");
        return;
    }
    text_add(&l->words,
             linear ? "The lines are straight: each day's load counts by "
                      "itself, so a cut is worth all of it or nothing, and an "
                      "optimiser loves full rest. Best for 14 days: %s %%. "
                      "That is the model's form speaking, not evidence. "
                    : "The lines bend: with less training each session also "
                      "tires less, so the best cut can lie inside. Best for "
                      "14 days: %s %%. ",
             row[1]);
    if (twin)
        text_add(&l->words,
                 linear ? "Its variable-dose twin, whose sessions tire as much "
                          "in usual training, bends and says %s %% for the "
                          "same athlete. "
                        : "Its linear twin, whose sessions tire as much in "
                          "usual training, is straight and says %s %% for the "
                          "same athlete. ",
                 row[4]);
}

void tapered_optimiser(Lesson *l) {
    ResponseParams twin;
    bool twins;
    if (!lesson_tires(l))
        l->picture.title = "Why an optimiser without fatigue never rests";
    by_cut(l);
    for (size_t k = 0; k < 4; k++)
        add_gains(l, "days of taper:", l->params, lengths[k]);
    twins = find_twin(l, "optimiser", &twin);
    for (size_t k = 0; k < 4 && twins; k++)
        add_gains(l,
                  response_linear(l->params->kind) ? "variable-dose twin:"
                                                   : "linear twin:",
                  &twin, lengths[k]);
    optimiser_table(l, twins ? &twin : NULL);
    say_optimiser(l, twins ? &twin : NULL);
}

/* ---- fatigue that grows with load ---- */

enum { GROWTHS = 5, LONG = 14 /* [d] of the taper */ };

/* The same athlete with any growth: in steady usual training a session adds
 * the same fatigue (params.h). False where the kind has none. */
static bool growing(Lesson *l, double growth, ResponseParams *p) {
    ResponseParams linear = *l->params;
    double tau3;
    if (!response_linear(linear.kind) &&
        !lesson_twin(l->params, l->usual, 1, &linear))
        return false;
    tau3 = find_tau3(l, "growth");
    if (linear.kind != RESPONSE_TWO_COMPONENT || !isfinite(tau3))
        return false;
    *p = linear;
    p->kind = RESPONSE_GRADED;
    p->value[PARAM_TAU3] = tau3;
    p->value[PARAM_RATIO] = linear.value[PARAM_K2] / linear.value[PARAM_K1];
    p->value[PARAM_GROWTH] = growth;
    response_settle(p, l->usual);
    return true;
}

static void growth_table(Lesson *l) {
    static const GridColumn columns[] = {{"growth, %", true},
                                         {"best cut\nof 14 days, %", true},
                                         {"gain", true},
                                         {"full rest\ngains", true},
                                         {"overshoot\ncosts", true}};
    by_cut(l);
    grid_start(&l->table, columns, 5);
    for (int k = 0; k < GROWTHS; k++) {
        ResponseParams p;
        BestCut best;
        double *y;
        if (!growing(l, k / 4., &p))
            return;
        y = lesson_curve(l, "growth, %:", 25 * k);
        for (size_t i = 0; i < l->picture.points; i++)
            y[i] = step_gain(&p, l->usual, LONG, l->x[i]);
        best = best_cut(&p, l->usual, LONG);
        grid_cell(&l->table, "%d", 25 * k);
        cut_cells(l, &best);
        lesson_cell(l, best.gain - best.rest);
        if (k == GROWTHS - 1)
            lesson_truth(l, best.cut, "%");
    }
    text_add(&l->caption,
             "In %s. Growth: the share of fatigue's gain that grows with the "
             "load of the days before. Usual training: %.4g a day.",
             lesson_unit(l), l->usual);
}

void tapered_growth(Lesson *l) {
    const char *const *row;
    ResponseParams p;
    if (!growing(l, 0, &p)) {
        by_cut(l);
        add_gains(l, "this model, days of taper:", l->params, LONG);
        text_add(&l->words,
                 "This kind of model cannot have fatigue that grows with load: "
                 "its line is straight. 'lesson growth' without --model shows "
                 "the family that can. ");
        return;
    }
    growth_table(l);
    row = (const char *const *)l->table.cells + 5 * (GROWTHS - 1);
    text_add(&l->words,
             "All five lines are the same athlete in usual training; they "
             "differ in what a cut does. Without growth the best cut of 14 "
             "days is %s %%. If all of fatigue's gain grows with load, less "
             "training also tires less, most of the fatigue is gone at %s %%, "
             "and full rest, which goes on giving fitness away, gains %s "
             "instead of %s: the deep cut overshoots by %s. ",
             l->table.cells[1], row[1], row[3], row[2], row[4]);
}
