/* lessons: see lessons.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/lessons.h"

#include "base/home.h"
#include "base/mem.h"
#include "lessons/curves.h"
#include "lessons/example_logs.h"
#include "lessons/five_tests.h"
#include "output/words.h"

#include <math.h>
#include <stdlib.h>

enum { POINTS = LESSON_POINTS };

/* ---- what the lessons share ---- */

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

static void say_marks(Lesson *l) {
    if (!lesson_tires(l))
        text_add(&l->words, "This kind of model has no fatigue, so there is no "
                            "t_n: training never lowers readiness. ");
    else if (!isfinite(l->marks.t_n))
        text_add(&l->words, "Fatigue never outweighs fitness in this model, so "
                            "there is no t_n and no taper helps in it. ");
    else
        text_add(&l->words,
                 "Training in the last %.0f days before an event (t_n) lowers "
                 "readiness at it; training %.0f days before (t_g) raises it "
                 "most. ",
                 floor(l->marks.t_n), l->marks.t_g);
    if (!response_linear(l->params->kind))
        text_add(&l->words,
                 "In this variable-dose model both depend on how much is "
                 "trained; these are for %.4g a day. ",
                 l->usual);
}

/* ---- the lessons ---- */

/* When readiness is above its level again after one session, and highest. */
static void say_return(Lesson *l) {
    double *r = l->y[0], level = l->params->value[PARAM_P0];
    size_t peak = extreme(r, 1, 91, 1), low = extreme(r, 1, 91, -1), back = 1;
    while (back < 90 && r[back] <= level)
        back++;
    if (r[1] >= level || back >= 90)
        return;
    l->picture.t_n =
        response_linear(l->params->kind) ? l->marks.t_n : (double)back;
    l->picture.t_g =
        response_linear(l->params->kind) ? l->marks.t_g : (double)peak;
    lesson_say(l, "Readiness first changes by", r[low] - level);
    text_add(&l->words, " (day %zu), is above its level again from day %zu",
             low, back);
    text_add(&l->words, ", and is highest on day %zu", peak);
    lesson_say(l, ", by", r[peak] - level);
    text_add(&l->words, ". ");
}

static void make_session(Lesson *l) {
    double load[POINTS] = {l->usual};
    lesson_days(l, 0, 91, "days after the session");
    add_run(l, load, 0);
    text_add(&l->words,
             "One session of load %.4g, nothing before or after it. Its "
             "fitness halves in %.1f days",
             l->usual, l->marks.half_life_fitness);
    if (lesson_tires(l)) {
        text_add(&l->words, ", its fatigue in %.1f days. ",
                 l->marks.half_life_fatigue);
        say_return(l);
    } else {
        text_add(&l->words, ". ");
    }
    if (response_linear(l->params->kind))
        say_marks(l);
    else
        text_add(&l->words, "A session in a week of training tires more than "
                            "this lone one. ");
}

static void fill(double *load, size_t from, size_t to, double value) {
    for (size_t i = from; i < to; i++)
        load[i] = value;
}

static void make_steady(Lesson *l) {
    double load[POINTS];
    double end[2], fit = l->params->value[PARAM_TAU1];
    fill(load, 0, POINTS, l->usual);
    lesson_days(l, 0, 169, "days of the same training, from nothing");
    add_run(l, load, 0);
    end[0] = l->y[1][168];
    text_add(&l->words,
             "The same load each day (%.4g), from nothing. Fitness nears a "
             "plateau: 90 %% of it after %.0f days (tau1 x ln 10)",
             l->usual, fit * log(10));
    if (lesson_tires(l)) {
        size_t low = extreme(l->y[0], 0, 169, -1);
        end[1] = l->y[2][168];
        if (response_linear(l->params->kind))
            text_add(&l->words, ", fatigue after %.0f days",
                     l->params->value[PARAM_TAU2] * log(10));
        text_add(&l->words, ". ");
        if (low > 0)
            text_add(&l->words, "Readiness falls first, lowest on day %zu. ",
                     low);
        text_add(&l->words, "On day 168 fitness is %.4g and fatigue %.4g. ",
                 end[0], end[1]);
    } else {
        text_add(&l->words, ". On day 168 fitness is %.4g. ", end[0]);
    }
    text_add(&l->words, "More of the same brings less and less. ");
}

static void make_deload(Lesson *l) {
    double load[POINTS], *r = l->y[0];
    size_t best;
    lesson_days(l, -14, 57, "days from the deload week's first day");
    fill(load, 0, POINTS, l->usual);
    fill(load, 14, 21, l->usual / 2);
    add_run(l, load, l->usual);
    best = extreme(r, 14, 57, 1);
    text_add(&l->words,
             "Steady training of %.4g a day, one week at half of it, then as "
             "before. ",
             l->usual);
    if (r[best] > r[14]) {
        lesson_say(l, "Readiness rises by", r[best] - r[14]);
        text_add(&l->words, ", most on day %.0f. ", l->x[best]);
    } else {
        text_add(&l->words, "Readiness does not rise: in this model the week "
                            "costs more fitness than it frees of fatigue. ");
    }
    lesson_say(l, "Six weeks after its first day readiness differs by",
               r[56] - r[14]);
    text_add(&l->words, ", the fitness given up. ");
}

/* The same athlete under the other kind: tau3 is the model's own, else that of
 * the published variable-dose set. False where there is no such twin. */
static bool find_twin(Lesson *l, const char *lesson, ResponseParams *twin) {
    double tau3 = l->params->value[PARAM_TAU3];
    Model busso = {0};
    Notes notes = {0};
    char *folder;
    if (!lesson_twin(l->params, l->usual, 1, twin))
        return false;
    if (response_linear(l->params->kind)) {
        folder = home_folder("models");
        if (model_find("busso-2003", folder, &busso, &notes))
            tau3 = busso.params.value[PARAM_TAU3];
        else
            status_fail(l->status, notes_code(&notes),
                        "lesson %s: %s/busso-2003.csv, from which tau3 is "
                        "taken, cannot be read",
                        lesson, folder);
        free(folder);
        model_free(&busso);
        notes_free(&notes);
    }
    return isfinite(tau3) && lesson_twin(l->params, l->usual, tau3, twin);
}

/* Readiness over six weeks: `hard` times the usual load in weeks 2 to 4, then
 * `rest` times it until the event. */
static double *add_weeks(Lesson *l, const char *name, const ResponseParams *p,
                         double hard, double rest) {
    double load[POINTS];
    LessonRun run = {NULL, NULL, lesson_curve(l, name, NAN)};
    fill(load, 0, POINTS, l->usual);
    fill(load, 7, 28, hard * l->usual);
    fill(load, 28, 42, rest * l->usual);
    lesson_run(p, load, 43, l->usual, &run);
    return run.readiness;
}

/* What the overload alone changes, with a taper behind it and without. */
static void say_overload(Lesson *l, const ResponseParams *p, double with,
                         double without) {
    lesson_say(l, ": by the event's day, with the taper, by", with);
    lesson_say(l, "; without any taper, by", without);
    text_add(&l->words,
             response_linear(p->kind)
                 ? ". The same: in a linear model the overload's part has "
                   "nothing to do with the taper, and the more load earlier "
                   "than t_n, the better. That is its form, not evidence. "
                 : ". Here fatigue grows with the load before, so the taper "
                   "decides what the overload is worth. ");
}

static void add_twin_weeks(Lesson *l, const ResponseParams *twin) {
    bool linear = response_linear(twin->kind);
    double *hard = add_weeks(
        l, linear ? "linear twin: +20 %, half" : "dose twin: +20 %, half", twin,
        1.2, .5);
    double *plain = add_weeks(
        l, linear ? "linear twin: usual, half" : "dose twin: usual, half", twin,
        1, .5);
    double *on = add_weeks(l,
                           linear ? "linear twin: +20 %, no taper"
                                  : "dose twin: +20 %, no taper",
                           twin, 1.2, 1);
    text_add(&l->words,
             "Its %s twin, whose sessions tire as much in usual "
             "training, says of the overload",
             linear ? "linear" : "variable-dose");
    /* without overload or taper the twin stays where it was */
    say_overload(l, twin, hard[42] - plain[42], on[42] - on[0]);
}

static void make_overload(Lesson *l) {
    double *hard, *plain, *on, *none;
    ResponseParams twin;
    lesson_days(l, -42, 43, "days before the event (day 0)");
    hard = add_weeks(l, "3 weeks +20 %, 2 weeks half", l->params, 1.2, .5);
    plain = add_weeks(l, "usual, 2 weeks half", l->params, 1, .5);
    on = add_weeks(l, "3 weeks +20 %, no taper", l->params, 1.2, 1);
    none = add_weeks(l, "usual, no taper", l->params, 1, 1);
    text_add(&l->words,
             "Three weeks at 20 %% more than the usual %.4g a day, then two "
             "weeks at half of the usual; beside it the same taper from usual "
             "training, and both without a taper. ",
             l->usual);
    lesson_say(l, "The taper alone changes readiness on the event's day by",
               plain[42] - none[42]);
    lesson_say(l, ". The overload has changed it on the taper's first day by",
               hard[28] - plain[28]);
    say_overload(l, l->params, hard[42] - plain[42], on[42] - none[42]);
    if (find_twin(l, "overload", &twin))
        add_twin_weeks(l, &twin);
    text_add(&l->words, "No model here knows health and motivation, which "
                        "decide whether harder weeks can be borne. ");
}

static const char *const tapers[] = {"14d-50", "7d-50,7d-75", "14d-0..75",
                                     "14d-100", "none"};
static const char *const taper_names[] = {
    "14 days at half", "a week at half, a week at a quarter",
    "14 days falling to a quarter", "14 days of full rest", "no taper"};

static void make_tapers(Lesson *l) {
    size_t best = 4;
    double gain[5] = {0}, load[POINTS], cut[21];
    lesson_days(l, -21, 22, "days before the event (day 0)");
    for (size_t k = 0; k < 5; k++) {
        char why[OPTION_WHY];
        Option option;
        LessonRun run = {NULL, NULL, lesson_curve(l, taper_names[k], NAN)};
        option_read(tapers[k], &option, why);
        option_cuts(&option, 21, cut);
        for (size_t i = 0; i < 22; i++)
            load[i] = i < 21 ? l->usual * (1 - cut[20 - i]) : 0;
        lesson_run(l->params, load, 22, l->usual, &run);
        gain[k] = lesson_gain(l->params, l->usual, &option);
        if (gain[k] > gain[best])
            best = k;
    }
    text_add(&l->words,
             "Four tapers from the same training (%.4g a day) to "
             "the same date. ",
             l->usual);
    for (size_t k = 0; k < 4; k++) {
        Text name = {0};
        text_add(&name, "%s%s:", k ? "; " : "Against no taper, ",
                 taper_names[k]);
        lesson_say(l, text_of(&name), gain[k]);
        text_free(&name);
    }
    text_add(&l->words, ". Highest in this model: %s. ", taper_names[best]);
    text_add(&l->words,
             "Published tapers did best with 41-60 %% less volume for 8-14 "
             "days, intensity and frequency kept (Bosquet et al. 2007). ");
}

static void make_influence(Lesson *l) {
    double *y = lesson_curve(l, "influence of a day's load", NAN);
    lesson_days(l, -90, 90, "days before the event (day 0)");
    for (size_t i = 0; i < 90; i++)
        y[i] = lesson_influence(l->params, l->usual, 90 - (int)i);
    l->picture.y_label = "change of readiness at the event per unit of load";
    l->picture.shade = true;
    l->picture.t_n = -l->marks.t_n;
    l->picture.t_g = -l->marks.t_g;
    text_add(&l->words, "What one more unit of load does to readiness at the "
                        "event, by the day it is trained. ");
    say_marks(l);
}

static void make_recovery(Lesson *l) {
    static const double factors[] = {.6, 1, 1.5};
    Param which = lesson_tires(l) ? PARAM_TAU2 : PARAM_TAU1;
    lesson_days(l, 1, 90, "days since the load");
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
        text_add(&l->words, "%s %.3g d: halves in %.1f d", param_names[which],
                 p.value[which], p.value[which] * log(2));
        if (isfinite(marks.t_n))
            text_add(&l->words, ", t_n %.1f d", marks.t_n);
        text_add(&l->words, ". ");
    }
    l->picture.y_label = "influence on readiness per unit of load";
    text_add(&l->words,
             lesson_tires(l)
                 ? "A fast recoverer needs a short taper, a slow one a "
                   "long one, from the same training. "
                 : "Without fatigue only how fast fitness fades can "
                   "differ. ");
}

/* The taper of constant cut that gains most of four lengths. */
typedef struct {
    int days, cut;     /* [d], [%]; 0: no cut gains anything */
    double gain, rest; /* of it, and of full rest for as long */
} BestStep;

static double step_gain(const ResponseParams *p, double usual, int days,
                        double cut) {
    Option o = {.count = 1, .part = {{days, cut, cut, 'x'}}};
    return lesson_gain(p, usual, &o);
}

static BestStep best_step(const ResponseParams *p, double usual) {
    static const int lengths[] = {7, 14, 21, 28};
    BestStep best = {0};
    for (size_t k = 0; k < 4; k++)
        for (int cut = 2; cut <= 100; cut += 2) {
            double gain = step_gain(p, usual, lengths[k], cut);
            if (gain > best.gain)
                best = (BestStep){lengths[k], cut, gain, 0};
        }
    if (best.days > 0)
        best.rest = step_gain(p, usual, best.days, 100);
    return best;
}

static void say_best(Lesson *l, const char *whose, const ResponseParams *p) {
    BestStep best = best_step(p, l->usual);
    text_add(&l->words, "%s: ", whose);
    if (best.days == 0) {
        text_add(&l->words, "every cut lowers readiness. ");
        return;
    }
    text_add(&l->words,
             "best of 7, 14, 21 and 28 days is %d %% less for %d "
             "days",
             best.cut, best.days);
    lesson_say(l, ", which gains", best.gain);
    if (best.cut < 100)
        lesson_say(l, "; full rest for as long would bring", best.rest);
    text_add(&l->words, ". ");
}

static void add_gains(Lesson *l, const char *name, const ResponseParams *p,
                      int days) {
    double *y = lesson_curve(l, name, days);
    for (size_t i = 0; i < l->picture.points; i++)
        y[i] = step_gain(p, l->usual, days, l->x[i]);
}

static void say_twin(Lesson *l, const ResponseParams *twin) {
    if (response_linear(l->params->kind))
        text_add(&l->words,
                 "The lines are straight: a linear model likes a cut whole or "
                 "not at all, so an optimiser loves full rest. That is "
                 "the model's form speaking, not evidence. Its variable-dose "
                 "twin (tau3 %.3g d as in busso-2003, k3 %.3g so that in usual "
                 "training a session tires as much) bends: with less training "
                 "each session also tires less, so cutting on brings less and "
                 "less. ",
                 twin->value[PARAM_TAU3], twin->value[PARAM_K3]);
    else
        text_add(&l->words,
                 "The lines bend: with less training each session also tires "
                 "less, so the best cut can lie inside. Its linear twin (k2 "
                 "%.3g, as much as a session tires in usual training) is "
                 "straight: it likes a cut whole or not at all. ",
                 twin->value[PARAM_K2]);
    say_best(l, "This model", l->params);
    say_best(l, "Its twin", twin);
}

static void say_no_twin(Lesson *l) {
    say_best(l, "This model", l->params);
    if (!lesson_tires(l))
        text_add(&l->words,
                 "It has no fatigue to shed, so each per cent cut costs the "
                 "same and an optimiser says: train on to the last day. It "
                 "cannot say anything about tapers; that is its form, not "
                 "evidence. ");
    else
        text_add(&l->words,
                 "The lines are straight: a linear model likes a cut whole or "
                 "not at all, so an optimiser loves full rest. That is "
                 "the model's form speaking, not evidence. In a variable-dose "
                 "model (busso-2003) they bend. ");
}

static void make_optimiser(Lesson *l) {
    static const int lengths[] = {7, 14, 21, 28};
    ResponseParams twin;
    bool twins;
    if (!lesson_tires(l))
        l->picture.title = "Why an optimiser without fatigue never rests";
    l->picture.points = 51;
    l->picture.x_label = "cut of each day's volume, %";
    l->picture.y_label = "gain at the event over no taper";
    for (size_t i = 0; i < 51; i++)
        l->x[i] = 2 * (double)i;
    for (size_t k = 0; k < 4; k++)
        add_gains(l, "days of taper:", l->params, lengths[k]);
    twins = find_twin(l, "optimiser", &twin);
    for (size_t k = 0; k < 4 && twins; k++)
        add_gains(l,
                  response_linear(l->params->kind) ? "variable-dose twin:"
                                                   : "linear twin:",
                  &twin, lengths[k]);
    if (twins)
        say_twin(l, &twin);
    else
        say_no_twin(l);
}

/* Readiness read after each day's load. */
static void read_after(const Lesson *l, const double *load, size_t days,
                       double *readiness) {
    Timeline t = {days, NULL, load, l->usual, 1};
    double fitness[POINTS], fatigue[POINTS];
    kernel_run(l->params, &t, READ_AFTER, fitness, fatigue);
    for (size_t i = 0; i < days; i++)
        readiness[i] = l->params->value[PARAM_P0] + fitness[i] - fatigue[i];
}

static void make_reading(Lesson *l) {
    double load[POINTS] = {0}, *before, *after;
    LessonRun run = {NULL, NULL, NULL};
    lesson_days(l, 0, 15, "day");
    for (size_t i = 0; i < 16; i++)
        load[i] = i % 7 == 6 ? 0 : l->usual;
    before = run.readiness =
        lesson_curve(l, "read before the day's session", NAN);
    lesson_run(l->params, load, 15, l->usual, &run);
    after = lesson_curve(l, "read after it", NAN);
    read_after(l, load, 15, after);
    lesson_say(l,
               "The same days read before the session (sum to n-1, Busso, "
               "Candau, Lacour 1994) and after it (sum to n, Morton, "
               "Fitz-Clarke, Banister 1990). On day 0 they differ by",
               after[0] - before[0]);
    text_add(&l->words, ", on a rest day not at all. A model fitted to tests "
                        "before sessions must not be read after them. ");
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
    double hurts[2] = {0};
    for (int far = 0; far < 2; far++)
        for (size_t i = 0; i < APPROACH_DAYS; i++) {
            int age = APPROACH_DAYS - (int)i - (far ? APPROACH_BEFORE : 0);
            if (age > 0 && lesson_influence(l->params, l->usual, age) < 0)
                hurts[far] += l->load[i];
        }
    text_add(&l->words,
             "%d weeks of an invented log (data/lessons/five-tests, scaled to "
             "a mean of %.4g a day) stand still; the influence curve ends at "
             "the day that is looked at and slides over them as the event "
             "comes nearer. ",
             APPROACH_DAYS / 7, l->usual);
    if (hurts[0] > 0)
        text_add(&l->words,
                 "Bars under its low part hurt on that day. Looked at %d days "
                 "before the event, %.0f of the load so far hurts; later that "
                 "turns into help, and on the event's day the %.0f trained "
                 "last hurts. ",
                 APPROACH_BEFORE, hurts[1], hurts[0]);
    say_marks(l);
}

static void make_approach(Lesson *l) {
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

const LessonRule lesson_rules[] = {
    {"session", "What one session does", make_session},
    {"steady", "A steady block", make_steady},
    {"deload", "A deload week", make_deload},
    {"overload", "Overload, then taper", make_overload},
    {"tapers", "Three tapers and full rest to one date", make_tapers},
    {"influence", "What hurts, what helps", make_influence},
    {"recovery", "Slow and fast recoverers", make_recovery},
    {"optimiser", "Why an optimiser loves full rest", make_optimiser},
    {"reading", "Read before or after the session", make_reading},
    {"bundle", "Why five tests cannot pin five parameters", bundle_lesson},
    {"approach", "The event comes nearer", make_approach},
    {NULL, NULL, NULL}};

/* ---- making one ---- */

StatusCode lesson_make(const LessonRule *rule, const Model *model,
                       const Question *question, Lesson *l, Status *status) {
    *l = (Lesson){.model = model, .params = &model->params};
    l->question = question;
    l->status = status;
    l->usual = lesson_usual_load(l->params);
    l->marks = lesson_marks(l->params, l->usual);
    words_model_short(model, &l->subtitle);
    text_add(&l->label, "%s",
             model->scaled ? model->unit : "units of readiness");
    l->picture = (LessonPicture){.title = rule->title,
                                 .subtitle = text_of(&l->subtitle),
                                 .y_label = text_of(&l->label),
                                 .x = l->x,
                                 .t_n = NAN,
                                 .t_g = NAN};
    rule->make(l);
    return status->code;
}
