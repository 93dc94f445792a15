/* curves_picture: see curves_picture.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/curves_picture.h"

#include "base/mem.h"
#include "output/output.h"
#include "output/words.h"
#include "present/pictures.h"

#include <stdlib.h>

/* The kind of test to draw: the model's own, else the athlete's first. */
static uint32_t pick_kind(const Case *c, bool *same_scale) {
    const Athlete *a = &c->context->season->athletes[c->athlete];
    const Names *names = &c->context->season->test_names;
    const char *unit = case_model(c)->unit;
    *same_scale = false;
    for (size_t i = 0; i < a->test_count; i++)
        if (text_same(names->items[a->tests[i].test], unit)) {
            *same_scale = case_model(c)->scaled;
            return a->tests[i].test;
        }
    return a->test_count ? a->tests[0].test : 0;
}

static size_t pick_tests(const Case *c, Date first, Date *date, double *value,
                         bool *same_scale, Text *label) {
    const Athlete *a = &c->context->season->athletes[c->athlete];
    uint32_t kind = pick_kind(c, same_scale);
    size_t count = 0;
    bool lower = false;
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        if (test->test != kind || test->date < first ||
            test->date > c->context->season->today)
            continue;
        lower = test->lower_better;
        date[count] = test->date;
        value[count++] = test->value;
    }
    if (count > 0)
        text_add(label, "test: %s%s",
                 c->context->season->test_names.items[kind],
                 lower ? " (lower is better)" : "");
    return count;
}

static size_t pick_events(const Case *c, Date first, size_t days,
                          PictureEvent *events) {
    const Season *s = c->context->season;
    size_t count = 0;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (!event_concerns(e, c->athlete) || e->start < first ||
            e->start >= first + (Date)days)
            continue;
        events[count++] = (PictureEvent){e->start, e->days, e->name};
    }
    return count;
}

/* Weeks of the season's blocks. */
static size_t pick_weeks(const Case *c, Date first, size_t days,
                         PictureWeek *weeks) {
    Date last = first + (Date)days - 1;
    size_t count = 0;
    const WeekBlock *before = NULL;
    for (Date day = first - date_weekday(first); day <= last; day += 7) {
        const WeekBlock *block =
            season_block(c->context->season, c->athlete, day);
        if (block)
            weeks[count++] =
                (PictureWeek){day, block == before ? "" : block->name,
                              (int)(block_end(block) - day) / 7};
        before = block;
    }
    return count;
}

enum { NARROW_WEEKS = 16 /* of the log, in a narrow picture */ };

/* Days of the beginning that are left out. */
static size_t left_out(const Case *c, const Gallery *gallery) {
    size_t kept = (size_t)7 * NARROW_WEEKS, logged = c->outlook.log_days;
    return gallery->format == PICTURE_NARROW && logged > kept ? logged - kept
                                                              : 0;
}

/* What the picture shows, and what it is made of. */
typedef struct {
    SeasonPicture shown;
    Date *test_date;
    double *test_value;
    PictureEvent *event;
    PictureWeek *week;
    Text title, words, label, test;
} View;

static void view_words(const Curves *v, View *view) {
    char day[DATE_TEXT];
    const Model *model = case_model(v->c);
    text_add(&view->title, "%s: load, fitness, fatigue and readiness",
             v->c->name);
    words_model_short(model, &view->words);
    if (v->low)
        text_add(&view->words, "; 90 %% range grey%s",
                 model->scaled ? "" : " of the change since today");
    if (v->issued != DATE_NONE)
        text_add(&view->words, "; plan handed out on %s",
                 date_write_short(day, v->issued));
    words_readiness(v->c, &view->label);
    view->shown.title = text_of(&view->title);
    view->shown.subtitle = text_of(&view->words);
    view->shown.readiness_label = text_of(&view->label);
    view->shown.load_label = load_method_unit(v->c->context->season->method);
}

static void view_marks(const Case *c, View *view) {
    const Season *s = c->context->season;
    SeasonPicture *p = &view->shown;
    size_t most_tests = s->athletes[c->athlete].test_count;
    view->test_date = mem_new(most_tests, sizeof *view->test_date);
    view->test_value = mem_new(most_tests, sizeof *view->test_value);
    view->event = mem_new(s->event_count, sizeof *view->event);
    view->week = mem_new(p->days / 7 + 2, sizeof *view->week);
    p->tests = pick_tests(c, p->first, view->test_date, view->test_value,
                          &p->same_scale, &view->test);
    p->events = pick_events(c, p->first, p->days, view->event);
    p->weeks = pick_weeks(c, p->first, p->days, view->week);
    p->test_label = text_of(&view->test);
    p->test_date = view->test_date;
    p->test_value = view->test_value;
    p->event = view->event;
    p->week = view->week;
}

static void view_build(const Curves *v, size_t skip, View *view) {
    const Outlook *o = &v->c->outlook;
    *view = (View){.shown = {.first = o->first + (Date)skip,
                             .days = v->days - skip,
                             .log_days = o->log_days - skip,
                             .load = v->load + skip,
                             .fitness = v->fitness + skip,
                             .fatigue = v->fatigue + skip,
                             .readiness = v->readiness + skip,
                             .low = v->low ? v->low + skip : NULL,
                             .high = v->high ? v->high + skip : NULL,
                             .taper_from = v->taper_from,
                             .taper_to = v->taper_to,
                             .handed = v->issued != DATE_NONE,
                             .today = v->c->context->season->today}};
    view_words(v, view);
    view_marks(v->c, view);
}

static void view_free(View *view) {
    text_free(&view->title);
    text_free(&view->words);
    text_free(&view->label);
    text_free(&view->test);
    free(view->test_date);
    free(view->test_value);
    free(view->event);
    free(view->week);
}

StatusCode curves_picture_draw(const Curves *v, const char *what,
                               const Gallery *gallery, Text *paths,
                               Status *status) {
    Text name = {0};
    View view;
    StatusCode code;
    view_build(v, left_out(v->c, gallery), &view);
    output_file_name(v->c, what, &name);
    code = picture_season(&view.shown, gallery, text_of(&name), paths, status);
    view_free(&view);
    text_free(&name);
    return code;
}
