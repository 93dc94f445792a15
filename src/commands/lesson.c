/* lesson: teaching figures with a short explanation, from a model alone. Every
 * number in the words is computed from the model in use.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "commands/worksheet.h"

#include "base/home.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "present/grid.h"
#include "present/lesson_picture.h"
#include "present/slides.h"
#include "response/kernel.h"
#include "taper/lessons.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { POINTS = 200 };

/* One lesson while it is made. */
typedef struct {
    const Model *model;
    const ResponseParams *params;
    double usual; /* [load/d] */
    Landmarks marks;
    LessonPicture picture;
    double x[POINTS], y[LESSON_CURVES][POINTS];
    char name[LESSON_CURVES][80];
    Text words;
} Lesson;

typedef struct {
    const char *name, *title;
    void (*make)(Lesson *);
} LessonRule;

/* ---- what the lessons share ---- */

static bool tires(const Lesson *l) {
    return response_has(l->params->kind, PARAM_TAU2);
}

static double *add_curve(Lesson *l, const char *format, double number) {
    LessonPicture *p = &l->picture;
    size_t k = p->curves++;
    snprintf(l->name[k], sizeof l->name[k], "%s", format);
    if (isfinite(number))
        snprintf(l->name[k], sizeof l->name[k], "%s %.3g", format, number);
    p->name[k] = l->name[k];
    p->y[k] = l->y[k];
    return l->y[k];
}

static void set_days(Lesson *l, int from, size_t points, const char *label) {
    l->picture.points = points;
    l->picture.x_label = label;
    for (size_t i = 0; i < points; i++)
        l->x[i] = from + (double)i;
}

/* Fitness, fatigue and readiness over daily loads as three curves. */
static void add_run(Lesson *l, const double *load, double before) {
    LessonRun run;
    run.readiness = add_curve(l, "readiness", NAN);
    run.fitness = add_curve(l, "fitness", NAN);
    run.fatigue = tires(l) ? add_curve(l, "fatigue", NAN) : NULL;
    lesson_run(l->params, load, l->picture.points, before, &run);
}

static size_t extreme(const double *y, size_t from, size_t to, int sign) {
    size_t at = from;
    for (size_t i = from; i < to; i++)
        if (sign * y[i] > sign * y[at])
            at = i;
    return at;
}

static void say_number(Lesson *l, const char *words, double value) {
    char shown[FIGURE_TEXT];
    text_add(&l->words, "%s %s", words, figure(shown, value, value));
}

static void say_marks(Lesson *l) {
    if (!tires(l))
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

static void make_session(Lesson *l) {
    double load[POINTS] = {l->usual};
    size_t peak, low;
    set_days(l, 0, 91, "days after the session");
    add_run(l, load, 0);
    peak = extreme(l->y[0], 1, 91, 1);
    low = extreme(l->y[0], 1, 91, -1);
    text_add(&l->words,
             "One session of load %.4g, nothing before or after it. Its "
             "fitness halves in %.1f days",
             l->usual, l->marks.half_life_fitness);
    if (tires(l)) {
        double *r = l->y[0], level = l->params->value[PARAM_P0];
        size_t back = 1;
        text_add(&l->words, ", its fatigue in %.1f days. ",
                 l->marks.half_life_fatigue);
        while (back < 90 && r[back] <= level)
            back++;
        if (r[1] < level && back < 90) {
            l->picture.t_n = (double)back;
            say_number(l, "Readiness first changes by", r[low] - level);
            text_add(&l->words,
                     " (day %zu), is above its level again from day %zu", low,
                     back);
            text_add(&l->words, ", and is highest on day %zu", peak);
            l->picture.t_g = (double)peak;
            say_number(l, ", by", r[peak] - level);
            text_add(&l->words, ". ");
        }
        if (!response_linear(l->params->kind))
            text_add(&l->words, "A session in a week of training tires more "
                                "than this lone one. ");
        else
            say_marks(l);
    } else {
        text_add(&l->words, ". ");
        say_marks(l);
    }
}

static void fill(double *load, size_t from, size_t to, double value) {
    for (size_t i = from; i < to; i++)
        load[i] = value;
}

static void make_steady(Lesson *l) {
    double load[POINTS];
    double end[2], fit = l->params->value[PARAM_TAU1];
    fill(load, 0, POINTS, l->usual);
    set_days(l, 0, 169, "days of the same training, from nothing");
    add_run(l, load, 0);
    end[0] = l->y[1][168];
    text_add(&l->words,
             "The same load each day (%.4g), from nothing. Fitness nears a "
             "plateau: 90 %% of it after %.0f days (tau1 x ln 10)",
             l->usual, fit * log(10));
    if (tires(l)) {
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
    set_days(l, -14, 57, "days from the deload week's first day");
    fill(load, 0, POINTS, l->usual);
    fill(load, 14, 21, l->usual / 2);
    add_run(l, load, l->usual);
    best = extreme(r, 14, 57, 1);
    text_add(&l->words,
             "Steady training of %.4g a day, one week at half of it, then as "
             "before. ",
             l->usual);
    if (r[best] > r[14]) {
        say_number(l, "Readiness rises by", r[best] - r[14]);
        text_add(&l->words, ", most on day %.0f. ", l->x[best]);
    } else {
        text_add(&l->words, "Readiness does not rise: in this model the week "
                            "costs more fitness than it frees of fatigue. ");
    }
    say_number(l, "Six weeks after its first day readiness differs by",
               r[56] - r[14]);
    text_add(&l->words, ", the fitness given up. ");
}

static void make_overload(Lesson *l) {
    double load[POINTS], *plain, *hard;
    LessonRun run = {NULL, NULL, NULL};
    set_days(l, -42, 43, "days before the event (day 0)");
    hard = run.readiness =
        add_curve(l, "3 weeks at +20 %, then 2 weeks half", NAN);
    fill(load, 0, POINTS, l->usual);
    fill(load, 7, 28, 1.2 * l->usual);
    fill(load, 28, 42, .5 * l->usual);
    lesson_run(l->params, load, 43, l->usual, &run);
    plain = run.readiness =
        add_curve(l, "usual training, then 2 weeks half", NAN);
    fill(load, 0, 28, l->usual);
    lesson_run(l->params, load, 43, l->usual, &run);
    text_add(&l->words,
             "Three weeks at 20 %% more than the usual %.4g a day, then two "
             "weeks at half of the usual; beside it the same taper from usual "
             "training. ",
             l->usual);
    say_number(l,
               "On the taper's first day the overload has changed "
               "readiness by",
               hard[28] - plain[28]);
    say_number(l, ", on the event's day by", hard[42] - plain[42]);
    text_add(&l->words, ". %s",
             hard[42] > plain[42]
                 ? "The harder weeks pay by then, if health and motivation "
                   "hold, which the model does not know. "
                 : "The harder weeks have not paid by then: the taper would "
                   "have to be longer. ");
}

static const char *const tapers[] = {"14x50", "7x50,7x75", "14x0-75", "14x100",
                                     "none"};
static const char *const taper_names[] = {
    "14 days at half", "a week at half, a week at a quarter",
    "14 days falling to a quarter", "14 days of full rest", "no taper"};

static void make_tapers(Lesson *l) {
    size_t best = 4;
    double gain[5] = {0}, load[POINTS], cut[21];
    set_days(l, -21, 22, "days before the event (day 0)");
    for (size_t k = 0; k < 5; k++) {
        char why[OPTION_WHY];
        Option option;
        LessonRun run = {NULL, NULL, add_curve(l, taper_names[k], NAN)};
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
        say_number(l, text_of(&name), gain[k]);
        text_free(&name);
    }
    text_add(&l->words, ". Highest in this model: %s. ", taper_names[best]);
    text_add(&l->words,
             "Published tapers did best with 41-60 %% less volume for 8-14 "
             "days, intensity and frequency kept (Bosquet et al. 2007). ");
}

static void make_influence(Lesson *l) {
    double *y = add_curve(l, "influence of a day's load", NAN);
    set_days(l, -90, 90, "days before the event (day 0)");
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
    Param which = tires(l) ? PARAM_TAU2 : PARAM_TAU1;
    set_days(l, 1, 90, "days since the load");
    for (size_t k = 0; k < 3; k++) {
        ResponseParams p = *l->params;
        Landmarks marks;
        double *y;
        p.value[which] *= factors[k];
        if (which == PARAM_TAU2) /* fatigue fades before fitness */
            p.value[which] = fmin(p.value[which], .9 * p.value[PARAM_TAU1]);
        marks = lesson_marks(&p, l->usual);
        y = add_curve(
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
             tires(l) ? "A fast recoverer needs a short taper, a slow one a "
                        "long one, from the same training. "
                      : "Without fatigue only how fast fitness fades can "
                        "differ. ");
}

static void make_optimiser(Lesson *l) {
    static const int lengths[] = {7, 14, 21, 28};
    int best_cut = 0, best_length = 0;
    double best = 0;
    l->picture.points = 51;
    l->picture.x_label = "cut of each day's volume, %";
    l->picture.y_label = "gain at the event over no taper";
    for (size_t i = 0; i < 51; i++)
        l->x[i] = 2 * (double)i;
    for (size_t k = 0; k < 4; k++) {
        double *y = add_curve(l, "days of taper:", lengths[k]);
        for (size_t i = 0; i < 51; i++) {
            Option o = {.count = 1,
                        .part = {{lengths[k], l->x[i], l->x[i], 'x'}}};
            y[i] = lesson_gain(l->params, l->usual, &o);
            if (y[i] > best) {
                best = y[i];
                best_cut = (int)l->x[i];
                best_length = lengths[k];
            }
        }
    }
    if (best_length == 0)
        text_add(&l->words, "Every cut lowers readiness in this model. ");
    else
        text_add(&l->words, "Best of these: %d %% for %d days. ", best_cut,
                 best_length);
    text_add(&l->words,
             response_linear(l->params->kind)
                 ? "The lines are straight: a linear model that likes a cut "
                   "at all likes it whole, so an optimiser loves full rest. "
                   "That is the model's form speaking, not evidence. In a "
                   "variable-dose model (busso-2003) the lines bend. "
                 : "The lines bend: less training also makes each session "
                   "tire less, so the best cut can lie inside. A linear model "
                   "would say full rest. ");
}

static void make_reading(Lesson *l) {
    double load[POINTS] = {0};
    LessonRun run = {NULL, NULL, NULL};
    double *before, *after;
    set_days(l, 0, 15, "day");
    for (size_t i = 0; i < 16; i++)
        load[i] = i % 7 == 6 ? 0 : l->usual;
    before = run.readiness = add_curve(l, "read before the day's session", NAN);
    lesson_run(l->params, load, 15, l->usual, &run);
    after = add_curve(l, "read after it", NAN);
    {
        Timeline t = {15, NULL, load, l->usual, 1};
        double fitness[15], fatigue[15];
        kernel_run(l->params, &t, READ_AFTER, fitness, fatigue);
        for (size_t i = 0; i < 15; i++)
            after[i] = l->params->value[PARAM_P0] + fitness[i] - fatigue[i];
    }
    say_number(l,
               "The same days read before the session (sum to n-1, Busso, "
               "Candau, Lacour 1994) and after it (sum to n, Morton, "
               "Fitz-Clarke, Banister 1990). On day 0 they differ by",
               after[0] - before[0]);
    text_add(&l->words, ", on a rest day not at all. A model fitted to tests "
                        "before sessions must not be read after them. ");
}

static const LessonRule lessons[] = {
    {"session", "What one session does", make_session},
    {"steady", "A steady block", make_steady},
    {"deload", "A deload week", make_deload},
    {"overload", "Overload, then taper", make_overload},
    {"tapers", "Three tapers and full rest to one date", make_tapers},
    {"influence", "What hurts, what helps", make_influence},
    {"recovery", "Slow and fast recoverers", make_recovery},
    {"optimiser", "Why an optimiser loves full rest", make_optimiser},
    {"reading", "Read before or after the session", make_reading},
    {NULL, NULL, NULL}};

/* ---- presenting ---- */

static void print_list(FILE *to) {
    for (const LessonRule *r = lessons; r->name; r++)
        fprintf(to, "  %-10s %s\n", r->name, r->title);
}

/* A drawn picture's bytes; the line end after its path is left out. */
static void read_picture(const char *line, Text *bytes) {
    char *path = mem_copy_part(line, strcspn(line, "\n"));
    FILE *file = fopen(path, "rb");
    char block[4096];
    size_t got;
    while (file && (got = fread(block, 1, sizeof block, file)) > 0)
        text_put(bytes, block, got);
    if (file)
        fclose(file);
    free(path);
}

static void add_slide(const Lesson *l, const char *line, Text *page) {
    Text svg = {0}, alt = {0}, caption = {0};
    const LessonPicture *p = &l->picture;
    text_add(&alt, "Line chart of %s by %s: ", p->y_label, p->x_label);
    for (size_t k = 0; k < p->curves; k++)
        text_add(&alt, "%s%s", k ? "; " : "", p->name[k]);
    text_add(&caption, "Computed from the model %s.", p->subtitle);
    read_picture(line, &svg);
    slides_add(page, &(Slide){p->title, text_of(&l->words), text_of(&alt),
                              text_of(&caption), text_of(&svg), svg.length});
    text_free(&svg);
    text_free(&alt);
    text_free(&caption);
}

static void fill_page(const void *from, FILE *to) {
    const Text *page = from;
    fwrite(text_of(page), 1, page->length, to);
}

static StatusCode write_page(const Text *page, const char *name,
                             const Call *call, Status *status) {
    Text path = {0};
    StatusCode code;
    text_add(&path, "%s/%s.html", call->request->out, name);
    code = outfile_write(text_of(&path), fill_page, page, status);
    if (code == STATUS_OK)
        fprintf(call->to, "\n%s\n", text_of(&path));
    text_free(&path);
    return code;
}

/* `page`, if not NULL, gets the lesson's slide. */
static StatusCode give(const LessonRule *rule, const Model *model,
                       const Call *call, Text *page, Status *status) {
    Lesson *l = mem_new(1, sizeof *l);
    Text subtitle = {0}, name = {0}, path = {0}, label = {0};
    StatusCode code = STATUS_OK;
    l->model = model;
    l->params = &model->params;
    l->usual = lesson_usual_load(l->params);
    l->marks = lesson_marks(l->params, l->usual);
    text_add(&label, "%s", model->scaled ? model->unit : "units of readiness");
    l->picture = (LessonPicture){.title = rule->title,
                                 .y_label = text_of(&label),
                                 .x = l->x,
                                 .t_n = NAN,
                                 .t_g = NAN};
    model_short(model, &subtitle);
    l->picture.subtitle = text_of(&subtitle);
    rule->make(l);
    fprintf(call->to, "%s\n\n", rule->title);
    print_wrapped(call->to, text_of(&l->words), 79, 0);
    text_add(&path, "\nModel: %s.", text_of(&subtitle));
    if (!model->scaled)
        text_add(&path, " Readiness is in units of its own.");
    fprintf(call->to, "%s\n", text_of(&path));
    text_clear(&path);
    if (call->request->out) {
        Gallery gallery;
        char *scripts;
        code = desk_gallery(call->request, &gallery, &scripts, status);
        text_add(&name, "lesson-%s", rule->name);
        if (code == STATUS_OK)
            code = picture_lesson(&l->picture, &gallery, text_of(&name), &path,
                                  status);
        free(scripts);
        if (code == STATUS_OK && page)
            add_slide(l, text_of(&path), page);
        fprintf(call->to, "\n%s", text_of(&path));
    }
    text_free(&l->words);
    text_free(&subtitle);
    text_free(&name);
    text_free(&path);
    text_free(&label);
    free(l);
    return code;
}

static const LessonRule *find_lesson(const char *name) {
    for (const LessonRule *r = lessons; r->name; r++)
        if (strcmp(r->name, name) == 0)
            return r;
    return NULL;
}

static StatusCode write_sheets(const Model *model, const char *words,
                               const Call *call, Status *status) {
    Text ask = {0}, key = {0};
    StatusCode code;
    slides_begin(&ask, "Worksheet: training, fatigue and the taper", words);
    slides_begin(&key, "Answer key", words);
    worksheet_write(&model->params, call->request->sheets, call->request->seed,
                    &ask, &key);
    slides_end(&ask);
    slides_end(&key);
    code = write_page(&ask, "worksheet", call, status);
    if (code == STATUS_OK)
        code = write_page(&key, "answers", call, status);
    text_free(&ask);
    text_free(&key);
    return code;
}

static StatusCode give_all(const Model *model, const Call *call,
                           Status *status) {
    StatusCode code = STATUS_OK;
    Text page = {0}, words = {0};
    bool paged = call->request->out && call->request->format == PICTURE_SVG;
    text_add(&words, "Model: ");
    model_short(model, &words);
    slides_begin(&page, "Training, fatigue and the taper", text_of(&words));
    for (const LessonRule *r = lessons; r->name && code == STATUS_OK; r++) {
        if (r != lessons)
            fprintf(call->to, "\n\n");
        code = give(r, model, call, paged ? &page : NULL, status);
    }
    slides_end(&page);
    if (code == STATUS_OK && paged)
        code = write_page(&page, "lecture", call, status);
    if (code == STATUS_OK && call->request->out && call->request->sheets > 0)
        code = write_sheets(model, text_of(&words), call, status);
    text_free(&page);
    text_free(&words);
    return code;
}

StatusCode command_lesson(const Call *call, Status *status) {
    const Request *r = call->request;
    Model model = {0};
    StatusCode code;
    char *folder, shown[TEXT_EXCERPT];
    if (r->list) {
        print_list(call->to);
        return STATUS_OK;
    }
    if (!r->lesson)
        return status_fail(status, STATUS_USAGE,
                           "lesson: no name given, expected one that 'peakward "
                           "lesson --list' lists, or all");
    if (strcmp(r->lesson, "all") != 0 && !find_lesson(r->lesson))
        return status_fail(status, STATUS_USAGE,
                           "lesson: %s, expected a name that 'peakward lesson "
                           "--list' lists, or all",
                           text_excerpt(shown, r->lesson));
    if (r->sheets > 0 &&
        (strcmp(r->lesson, "all") != 0 || !r->out || r->format != PICTURE_SVG))
        return status_fail(status, STATUS_USAGE,
                           "--sheets: worksheets go with 'lesson all --out "
                           "DIR', pictures as svg");
    folder = home_folder("models");
    model_find(r->model ? r->model : "literature", folder, &model, call->notes);
    free(folder);
    code = notes_code(call->notes);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = strcmp(r->lesson, "all") == 0
                   ? give_all(&model, call, status)
                   : give(find_lesson(r->lesson), &model, call, NULL, status);
    model_free(&model);
    return code;
}
