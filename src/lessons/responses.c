/* responses: see responses.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/responses.h"

#include "base/mem.h"
#include "lessons/curves.h"
#include "lessons/example_logs.h"

#include <math.h>
#include <stdlib.h>

enum { POINTS = LESSON_POINTS };

/* Fitness, fatigue and readiness over daily loads as three curves. */
static void add_run(Lesson *l, const double *load, double before) {
    LessonRun run;
    run.readiness = lesson_curve(l, "readiness", NAN);
    run.fitness = lesson_curve(l, "fitness", NAN);
    run.fatigue = lesson_tires(l) ? lesson_curve(l, "fatigue", NAN) : NULL;
    lesson_run(l->params, load, l->picture.points, before, &run);
}

static size_t extreme(const double *y, size_t from, size_t to, int sign) {
    size_t at = from;
    for (size_t i = from; i < to; i++)
        if (sign * y[i] > sign * y[at])
            at = i;
    return at;
}

/* ---- the equation ---- */

enum { WORKED = 8 /* days that are worked by hand */ };

static void equation_table(Lesson *l, const double *load) {
    static const GridColumn columns[] = {{"day", true},
                                         {"load", true},
                                         {"fitness", true},
                                         {"fatigue", true},
                                         {"readiness", true}};
    double most = 0;
    int digits; /* four of the largest, so that rows can be added */
    for (size_t i = 0; i < WORKED; i++)
        most = fmax(most,
                    fmax(l->y[1][i], l->picture.curves > 2 ? l->y[2][i] : 0));
    digits = most > 0 ? (int)fmax(0, 3 - floor(log10(most))) : 0;
    grid_start(&l->table, columns, 5);
    for (size_t i = 0; i < WORKED; i++) {
        grid_cell(&l->table, "%zu", i);
        grid_cell(&l->table, "%.4g", load[i]);
        grid_cell(&l->table, "%.*f", digits, l->y[1][i]);
        grid_cell(&l->table, "%.*f", digits, lesson_tires(l) ? l->y[2][i] : 0);
        grid_cell(&l->table, "%.*f", digits, l->y[0][i]);
    }
}

/* What a day leaves of each, and what a session adds. */
static void equation_rule(Lesson *l) {
    const double *v = l->params->value;
    text_add(&l->caption,
             "Level %.4g, before each day's session. From one day to the next: "
             "fitness = "
             "(fitness + %.4g x load) x %.4f",
             v[PARAM_P0], v[PARAM_K1], exp(-1 / v[PARAM_TAU1]));
    if (l->params->kind == RESPONSE_DELAYED)
        text_add(&l->caption,
                 ", less a part that builds up (x %.4f a day) and does not "
                 "work yet",
                 exp(-1 / v[PARAM_TAU_RISE]));
    if (response_linear(l->params->kind) && lesson_tires(l))
        text_add(&l->caption, "; fatigue = (fatigue + %.4g x load) x %.4f",
                 v[PARAM_K2], exp(-1 / v[PARAM_TAU2]));
    else if (lesson_tires(l))
        text_add(&l->caption,
                 "; fatigue = (fatigue + g x load) x %.4f, where g = %.4g + "
                 "%.4g x m grows with the loads so far: m = %.4f x m of the "
                 "day before + load",
                 exp(-1 / v[PARAM_TAU2]),
                 isfinite(v[PARAM_K2]) ? v[PARAM_K2] : 0, v[PARAM_K3],
                 exp(-1 / v[PARAM_TAU3]));
    text_add(&l->caption, ".");
}

void responses_equation(Lesson *l) {
    double load[POINTS] = {l->usual, 0, l->usual / 2};
    lesson_days(l, 0, WORKED, "day");
    add_run(l, load, 0);
    equation_table(l, load);
    equation_rule(l);
    text_add(&l->words, "Readiness = level %s %s. ",
             lesson_tires(l) ? "+ fitness - fatigue, and nothing else:"
                             : "+ fitness (this kind has no fatigue):",
             "each day every part keeps a fixed share of itself, and a session "
             "adds its load times a gain, felt from the next day on");
    text_add(&l->words,
             "The table can be worked with a pocket calculator, a row from the "
             "one above it: the rule stands below it. ");
    lesson_truth(l, l->y[0][3] - l->params->value[PARAM_P0], lesson_unit(l));
}

/* ---- one session ---- */

/* When readiness is above its level again after one session, and highest. */
static void say_return(Lesson *l) {
    double *r = l->y[0], level = l->params->value[PARAM_P0];
    size_t peak = extreme(r, 1, 91, 1), low = extreme(r, 1, 91, -1), back = 1;
    bool linear = response_linear(l->params->kind);
    const char *s[5];
    lesson_truth(l, (double)peak, "days after it");
    while (back < 90 && r[back] <= level)
        back++;
    if (r[1] >= level || back >= 90) {
        text_add(&l->words, "In this model one session never lowers "
                            "readiness. ");
        return;
    }
    l->picture.t_n = linear ? l->marks.t_n : (double)back;
    l->picture.t_g = linear ? l->marks.t_g : (double)peak;
    s[0] = lesson_amount(l, "lowest, below the level", level - r[low]);
    s[1] = lesson_row(l, "lowest on day", (double)low, 0, "d");
    s[2] = lesson_row(l, "above the level from day", (double)back, 0, "d");
    s[3] = lesson_row(l, "highest on day", (double)peak, 0, "d");
    s[4] = lesson_amount(l, "highest, above the level", r[peak] - level);
    text_add(&l->words,
             "Readiness falls by %s (day %s), is above its level again from "
             "day %s and highest on day %s, by %s. ",
             s[0], s[1], s[2], s[3], s[4]);
}

void responses_session(Lesson *l) {
    double load[POINTS] = {l->usual};
    const char *fit, *tired;
    lesson_days(l, 0, 91, "days after the session");
    add_run(l, load, 0);
    lesson_row(l, "load of the session", l->usual, 0, "load");
    fit =
        lesson_row(l, "fitness halves in", l->marks.half_life_fitness, 1, "d");
    if (!lesson_tires(l)) {
        text_add(&l->words,
                 "Fitness is highest at once and halves in %s days. This kind "
                 "of model has no fatigue: training never lowers readiness. ",
                 fit);
        lesson_truth(l, (double)extreme(l->y[0], 1, 91, 1), "days after it");
        return;
    }
    tired =
        lesson_row(l, "fatigue halves in", l->marks.half_life_fatigue, 1, "d");
    text_add(&l->words,
             "One session does two things at once: fitness, which halves in %s "
             "days, and fatigue, which is larger at first and halves in %s. ",
             fit, tired);
    say_return(l);
    if (!response_linear(l->params->kind))
        text_add(&l->words, "A session in a week of training tires more than "
                            "this lone one. ");
}

/* ---- a steady block ---- */

static void fill(double *load, size_t from, size_t to, double value) {
    for (size_t i = from; i < to; i++)
        load[i] = value;
}

void responses_steady(Lesson *l) {
    double load[POINTS], ninety = l->params->value[PARAM_TAU1] * log(10);
    const char *s[5];
    size_t low;
    fill(load, 0, POINTS, l->usual);
    lesson_days(l, 0, 169, "days of the same training, from nothing");
    add_run(l, load, 0);
    low = extreme(l->y[0], 0, 169, -1);
    lesson_row(l, "load of each day", l->usual, 0, "load");
    s[0] = lesson_row(l, "fitness at 90 % of its plateau (tau1 x ln 10)",
                      ninety, 0, "d");
    s[1] = lesson_amount(l, "fitness on day 84", l->y[1][84]);
    s[2] = lesson_amount(l, "fitness on day 168", l->y[1][168]);
    lesson_truth(l, ninety, "d");
    text_add(&l->words,
             "Fitness nears a plateau, for each day it loses a share of what "
             "it is: 90 %% of it after %s days. From day 84 to day 168 it only "
             "rises from %s to %s: the second half brings far less than the "
             "first. ",
             s[0], s[1], s[2]);
    if (!lesson_tires(l) || low == 0)
        return;
    s[3] = lesson_row(l, "readiness lowest on day", (double)low, 0, "d");
    text_add(&l->words,
             "Readiness falls first, lowest on day %s, since fatigue is there "
             "sooner. ",
             s[3]);
}

/* ---- an easy week ---- */

void responses_deload(Lesson *l) {
    double load[POINTS], *r = l->y[0];
    const char *s[3];
    size_t best;
    lesson_days(l, -14, 57, "days from the easy week's first day");
    fill(load, 0, POINTS, l->usual);
    fill(load, 14, 21, l->usual / 2);
    add_run(l, load, l->usual);
    best = extreme(r, 14, 57, 1);
    lesson_row(l, "usual load", l->usual, 0, "a day");
    if (r[best] > r[14]) {
        s[0] = lesson_amount(l, "readiness rises by", r[best] - r[14]);
        s[1] = lesson_row(l, "most on day", l->x[best], 0, "d");
        text_add(&l->words,
                 "Readiness rises by %s, most on day %s: fatigue falls faster "
                 "than fitness. ",
                 s[0], s[1]);
        lesson_truth(l, l->x[best], "days after its first");
    } else {
        text_add(&l->words, "Readiness does not rise: in this model the week "
                            "costs more fitness than it frees of fatigue. ");
    }
    s[2] = lesson_amount(l, "change on day 42", r[56] - r[14]);
    text_add(&l->words,
             "By day 42 fatigue is as before and readiness differs by %s: the "
             "fitness given up. An easy week is not free, and what it frees "
             "has to be used soon. ",
             s[2]);
}

/* ---- what a day's load is worth at the event ---- */

static void say_marks(Lesson *l) {
    const char *n, *g;
    if (!lesson_tires(l)) {
        text_add(&l->words, "This kind of model has no fatigue, so there is no "
                            "t_n: training never lowers readiness. ");
        return;
    }
    if (!isfinite(l->marks.t_n)) {
        text_add(&l->words, "Fatigue never outweighs fitness in this model, so "
                            "there is no t_n and no taper helps in it. ");
        return;
    }
    n = lesson_row(l, "training lowers readiness in the last (t_n)",
                   l->marks.t_n, 1, "d");
    g = lesson_row(l, "training raises it most before (t_g)", l->marks.t_g, 1,
                   "d");
    text_add(&l->words,
             "Training in the last %s days before an event (t_n) lowers "
             "readiness at it; training %s days before (t_g) raises it most. ",
             n, g);
    if (!response_linear(l->params->kind))
        text_add(&l->words,
                 "Both depend here on how much is trained; these are for %s a "
                 "day. ",
                 lesson_row(l, "usual load", l->usual, 0, "a day"));
}

void responses_influence(Lesson *l) {
    double *y = lesson_curve(l, "influence of a day's load", NAN);
    lesson_days(l, -90, 90, "days before the event (day 0)");
    for (size_t i = 0; i < 90; i++)
        y[i] = lesson_influence(l->params, l->usual, 90 - (int)i);
    l->picture.y_label = "change of readiness at the event per unit of load";
    l->picture.shade = true;
    l->picture.t_n = -l->marks.t_n;
    l->picture.t_g = -l->marks.t_g;
    text_add(&l->words, "The curve is what one more unit of load does to "
                        "readiness at the event, by the day it is trained. ");
    say_marks(l);
    lesson_truth(l, lesson_tires(l) ? l->marks.t_n : NAN, "d before the event");
}

/* ---- slow and fast recoverers ---- */

static void recovery_row(Lesson *l, const ResponseParams *p, Param which,
                         const Landmarks *marks) {
    grid_cell(&l->table, "%.3g", p->value[which]);
    grid_cell(&l->table, "%.1f", p->value[which] * log(2));
    grid_cell(&l->table, isfinite(marks->t_n) ? "%.1f" : "none", marks->t_n);
}

void responses_recovery(Lesson *l) {
    static const double factors[] = {.6, 1, 1.5};
    static const GridColumn tired[] = {
        {"tau2, d", true}, {"halves in, d", true}, {"t_n, d", true}};
    static const GridColumn fit[] = {
        {"tau1, d", true}, {"halves in, d", true}, {"t_n, d", true}};
    Param which = lesson_tires(l) ? PARAM_TAU2 : PARAM_TAU1;
    double t_n[3];
    lesson_days(l, 1, 90, "days since the load");
    grid_start(&l->table, which == PARAM_TAU2 ? tired : fit, 3);
    for (size_t k = 0; k < 3; k++) {
        ResponseParams p = *l->params;
        Landmarks marks;
        double *y;
        p.value[which] *= factors[k];
        if (which == PARAM_TAU2) /* fatigue fades before fitness */
            p.value[which] = fmin(p.value[which], .9 * p.value[PARAM_TAU1]);
        marks = lesson_marks(&p, l->usual);
        y = lesson_curve(
            l, which == PARAM_TAU2 ? "tau2, d:" : "tau1, d:", p.value[which]);
        for (size_t i = 0; i < 90; i++)
            y[i] = lesson_influence(&p, l->usual, (int)i + 1);
        t_n[k] = which == PARAM_TAU2 ? marks.t_n : NAN;
        recovery_row(l, &p, which, &marks);
    }
    l->picture.y_label = "influence on readiness per unit of load";
    lesson_truth(l, t_n[2] - t_n[1], "d longer");
    if (isfinite(t_n[0]) && isfinite(t_n[2]))
        text_add(&l->words,
                 "The same training hurts for the last %s days before the "
                 "event where fatigue halves in %s days, and for %s where it "
                 "takes %s. A fast recoverer needs a short taper, a slow one a "
                 "long one. ",
                 l->table.cells[2], l->table.cells[1], l->table.cells[8],
                 l->table.cells[7]);
    else
        text_add(&l->words,
                 lesson_tires(l)
                     ? "Where fatigue lasts, training hurts at an event that "
                       "is near; with some of these there is no such time. "
                     : "Without fatigue only how fast fitness fades can "
                       "differ. ");
}

/* ---- read before or after ---- */

/* Readiness read after each day's load. */
static void read_after(const Lesson *l, const double *load, size_t days,
                       double *readiness) {
    Timeline t = {days, NULL, load, l->usual, 1};
    double fitness[POINTS], fatigue[POINTS];
    kernel_run(l->params, &t, READ_AFTER, fitness, fatigue);
    for (size_t i = 0; i < days; i++)
        readiness[i] = l->params->value[PARAM_P0] + fitness[i] - fatigue[i];
}

void responses_reading(Lesson *l) {
    double load[POINTS] = {0}, *before, *after;
    LessonRun run = {NULL, NULL, NULL};
    const char *s[2];
    lesson_days(l, 0, 15, "day");
    for (size_t i = 0; i < 16; i++)
        load[i] = i % 7 == 6 ? 0 : l->usual;
    before = run.readiness =
        lesson_curve(l, "read before the day's session", NAN);
    lesson_run(l->params, load, 15, l->usual, &run);
    after = lesson_curve(l, "read after it", NAN);
    read_after(l, load, 15, after);
    lesson_row(l, "load of a training day", l->usual, 0, "load");
    s[0] = lesson_amount(l, "after minus before, day 0", after[0] - before[0]);
    s[1] = lesson_amount(l, "after minus before, day 6 (rest)",
                         after[6] - before[6]);
    lesson_truth(l, after[0] - before[0], lesson_unit(l));
    text_add(&l->words,
             "On a training day the reading after the session differs from the "
             "one before it by %s, on a rest day by %s. A model fitted to "
             "tests before sessions (sum to n-1; Busso, Candau, Lacour 1994) "
             "must not be read after them (sum to n; Morton, Fitz-Clarke, "
             "Banister 1990). ",
             s[0], s[1]);
}

/* ---- the event comes nearer ---- */

enum { APPROACH_DAYS = 63, APPROACH_BEFORE = 35 };

/* The last weeks of an invented log, scaled to this model's usual training. */
static bool approach_loads(Lesson *l, const LessonSeries *s) {
    double mean = 0;
    size_t from = s->days - APPROACH_DAYS;
    if (s->days < APPROACH_DAYS) {
        status_fail(l->status, STATUS_DATA, "%s: %zu days, expected %d or more",
                    s->path, s->days, APPROACH_DAYS);
        return false;
    }
    for (size_t i = 0; i < APPROACH_DAYS; i++)
        mean += s->load[from + i] / APPROACH_DAYS;
    for (size_t i = 0; i < APPROACH_DAYS; i++)
        l->load[i] = s->load[from + i] * l->usual / mean;
    return true;
}

/* What the same loads do, and whether they help, on two days of reading. */
static void say_approach(Lesson *l) {
    double hurts[2] = {0}, all = 0;
    const char *s[3];
    for (size_t i = 0; i < APPROACH_DAYS; i++)
        all += l->load[i];
    for (int far = 0; far < 2; far++)
        for (size_t i = 0; i < APPROACH_DAYS; i++) {
            int age = APPROACH_DAYS - (int)i - (far ? APPROACH_BEFORE : 0);
            if (age > 0 && lesson_influence(l->params, l->usual, age) < 0)
                hurts[far] += l->load[i];
        }
    text_add(&l->caption,
             "%d weeks of an invented log (data/lessons/five-tests, scaled to "
             "a mean of %.4g a day). The loads stand still; the influence "
             "curve ends at the day looked at and slides over them as the "
             "event comes nearer.",
             APPROACH_DAYS / 7, l->usual);
    s[0] = lesson_row(l, "looked at 35 days before, load that hurts", hurts[1],
                      0, "load");
    s[1] = lesson_row(l, "on the day of the event, load that hurts", hurts[0],
                      0, "load");
    s[2] = lesson_row(l, "of all load", 100 * hurts[0] / all, 0, "%");
    lesson_truth(l, 100 * hurts[0] / all, "% of the load");
    if (hurts[0] > 0)
        text_add(&l->words,
                 "Looked at 35 days before the event, %s of the load so far "
                 "hurts; later that turns into help, and on the event's day it "
                 "is the last %s that hurts, %s %% of all. The same session "
                 "helps or hurts by its distance alone. ",
                 s[0], s[1], s[2]);
    say_marks(l);
}

void responses_approach(Lesson *l) {
    LessonSeries s;
    LessonRun run = {NULL, NULL, NULL};
    l->load = mem_new(APPROACH_DAYS + 1, sizeof *l->load);
    l->readiness = mem_new(APPROACH_DAYS + 1, sizeof *l->readiness);
    l->influence = mem_new(APPROACH_DAYS + 1, sizeof *l->influence);
    if (series_read("five-tests", l->question, &s, l->status) == STATUS_OK &&
        approach_loads(l, &s)) {
        run.readiness = l->readiness;
        lesson_run(l->params, l->load, APPROACH_DAYS + 1, l->usual, &run);
        for (int age = 1; age <= APPROACH_DAYS; age++)
            l->influence[age] = lesson_influence(l->params, l->usual, age);
        l->approach = (ApproachPicture){.title = l->picture.title,
                                        .subtitle = l->picture.subtitle,
                                        .days = APPROACH_DAYS + 1,
                                        .from = APPROACH_BEFORE,
                                        .load = l->load,
                                        .readiness = l->readiness,
                                        .influence = l->influence};
        say_approach(l);
    }
    series_free(&s);
}
