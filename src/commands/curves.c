/* curves: see curves.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/curves.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static size_t step_of(const Outlook *o, ReadWhen when, size_t day) {
    return when == READ_AFTER ? o->after_step[day] : o->read_step[day];
}

static void add_band(const Case *c, const Timeline *timeline, ReadWhen when,
                     Curves *v) {
    const Draws *draws = case_draws(c);
    const Outlook *o = &c->outlook;
    size_t n = draws->count;
    double *readiness = mem_new(n * timeline->steps, sizeof *readiness);
    draw_readiness(o, timeline, draws, when, case_anchor(c), readiness);
    v->low = mem_new(v->days, sizeof *v->low);
    v->high = mem_new(v->days, sizeof *v->high);
    for (size_t i = 0; i < v->days; i++) {
        double *row = readiness + step_of(o, when, i) * n;
        double low = case_shown(c, draws_quantile(row, n, .05));
        double high = case_shown(c, draws_quantile(row, n, .95));
        v->low[i] = fmin(low, high);
        v->high[i] = fmax(low, high);
    }
    free(readiness);
}

static void set_taper(const Outlook *o, const Option *option, Curves *v) {
    size_t length = (size_t)option_days(option);
    v->taper_from = v->taper_to = DATE_NONE;
    if (!o->event || length == 0 || o->window == 0)
        return;
    if (length > o->window)
        length = o->window;
    v->taper_from = o->event->start - (Date)length;
    v->taper_to = o->event->start - 1;
}

/* Load of each day: logged, or planned with its cut. */
static void set_loads(const Case *c, const double *cut, Curves *v) {
    const Outlook *o = &c->outlook;
    for (size_t i = 0; i < v->days; i++) {
        size_t before = o->event && i < o->event_day ? o->event_day - i : 0;
        v->load[i] = outlook_planned(o, i);
        if (before >= 1 && before <= o->window)
            v->load[i] -= cut[before - 1] * o->cuttable[i];
    }
}

void curves_build(const Case *c, const Option *option, ReadWhen when,
                  size_t days, bool band, Curves *v) {
    const Outlook *o = &c->outlook;
    const ResponseParams *params = &case_model(c)->params;
    Timeline timeline = o->timeline;
    double *load = mem_new(timeline.steps, sizeof *load);
    double *fitness = mem_new(timeline.steps, sizeof *fitness);
    double *fatigue = mem_new(timeline.steps, sizeof *fatigue);
    double *cut = mem_new(o->window, sizeof *cut);
    *v = (Curves){.c = c, .days = days};
    option_cuts(option, o->window, cut);
    outlook_apply(o, cut, load);
    timeline.load = load;
    kernel_run(params, &timeline, when, fitness, fatigue);
    v->load = mem_new(days, sizeof *v->load);
    v->fitness = mem_new(days, sizeof *v->fitness);
    v->fatigue = mem_new(days, sizeof *v->fatigue);
    v->readiness = mem_new(days, sizeof *v->readiness);
    for (size_t i = 0; i < days; i++) {
        v->fitness[i] = fitness[step_of(o, when, i)];
        v->fatigue[i] = fatigue[step_of(o, when, i)];
        v->readiness[i] = case_shown(c, params->value[PARAM_P0] +
                                            v->fitness[i] - v->fatigue[i]);
    }
    set_loads(c, cut, v);
    set_taper(o, option, v);
    if (band && case_draws(c)->count > 0)
        add_band(c, &timeline, when, v);
    free(load);
    free(fitness);
    free(fatigue);
    free(cut);
}

void curves_free(Curves *v) {
    free(v->load);
    free(v->fitness);
    free(v->fatigue);
    free(v->readiness);
    free(v->low);
    free(v->high);
    *v = (Curves){0};
}

void readiness_label(const Model *model, Text *text) {
    if (model->scaled)
        text_add(text, "readiness (%s%s)", model->unit,
                 model->lower ? "; lower is better" : "");
    else
        text_add(text, "readiness (model's own scale)");
}

/* The kind of test to draw: the model's own, else the athlete's first. */
static uint32_t pick_kind(const Case *c, bool *same_scale) {
    const Athlete *a = &c->desk->season->athletes[c->athlete];
    const Names *names = &c->desk->season->test_names;
    const char *unit = case_model(c)->unit;
    *same_scale = false;
    for (size_t i = 0; i < a->test_count; i++)
        if (text_same(names->items[a->tests[i].test], unit)) {
            *same_scale = case_model(c)->scaled;
            return a->tests[i].test;
        }
    return a->test_count ? a->tests[0].test : 0;
}

static size_t pick_tests(const Case *c, Date *date, double *value,
                         bool *same_scale, Text *label) {
    const Athlete *a = &c->desk->season->athletes[c->athlete];
    uint32_t kind = pick_kind(c, same_scale);
    size_t count = 0;
    bool lower = false;
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        if (test->test != kind || test->date < c->outlook.first ||
            test->date > c->desk->season->today)
            continue;
        lower = test->lower_better;
        date[count] = test->date;
        value[count++] = test->value;
    }
    if (count > 0)
        text_add(label, "test: %s%s", c->desk->season->test_names.items[kind],
                 lower ? " (lower is better)" : "");
    return count;
}

static size_t pick_events(const Case *c, size_t days, PictureEvent *events) {
    const Season *s = c->desk->season;
    size_t count = 0;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (!event_concerns(e, c->athlete) || e->start < c->outlook.first ||
            e->start >= c->outlook.first + (Date)days)
            continue;
        events[count++] = (PictureEvent){e->start, e->days, e->name};
    }
    return count;
}

StatusCode curves_draw(const Curves *v, const char *what,
                       const Gallery *gallery, Text *paths, Status *status) {
    const Case *c = v->c;
    const Season *s = c->desk->season;
    size_t most_tests = s->athletes[c->athlete].test_count;
    Date *test_date = mem_new(most_tests, sizeof *test_date);
    double *test_value = mem_new(most_tests, sizeof *test_value);
    PictureEvent *events = mem_new(s->event_count, sizeof *events);
    Text name = {0}, words = {0}, label = {0}, test = {0}, title = {0};
    StatusCode code;
    bool same_scale;
    size_t tests = pick_tests(c, test_date, test_value, &same_scale, &test);
    size_t event_count = pick_events(c, v->days, events);
    text_add(&title, "%s: load, fitness, fatigue and readiness", c->name);
    model_short(case_model(c), &words);
    if (v->low)
        text_add(&words, "; likely range: 5-95 %%%s",
                 case_model(c)->scaled ? "" : " of the change since today");
    readiness_label(case_model(c), &label);
    output_file_name(c, what, &name);
    {
        SeasonPicture picture = {
            .title = text_of(&title),
            .subtitle = text_of(&words),
            .load_label = load_method_unit(s->method),
            .readiness_label = text_of(&label),
            .test_label = text_of(&test),
            .first = c->outlook.first,
            .days = v->days,
            .log_days = c->outlook.log_days,
            .load = v->load,
            .fitness = v->fitness,
            .fatigue = v->fatigue,
            .readiness = v->readiness,
            .low = v->low,
            .high = v->high,
            .test_date = test_date,
            .test_value = test_value,
            .tests = tests,
            .same_scale = same_scale,
            .event = events,
            .events = event_count,
            .taper_from = v->taper_from,
            .taper_to = v->taper_to,
            .today = s->today,
        };
        code = picture_season(&picture, gallery, text_of(&name), paths, status);
    }
    text_free(&name);
    text_free(&words);
    text_free(&label);
    text_free(&test);
    text_free(&title);
    free(test_date);
    free(test_value);
    free(events);
    return code;
}
