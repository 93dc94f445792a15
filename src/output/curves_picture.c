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
    size_t kept = 7 * NARROW_WEEKS, logged = c->outlook.log_days;
    return gallery->format == PICTURE_NARROW && logged > kept ? logged - kept
                                                              : 0;
}

StatusCode curves_picture_draw(const Curves *v, const char *what,
                               const Gallery *gallery, Text *paths,
                               Status *status) {
    const Case *c = v->c;
    const Season *s = c->context->season;
    size_t most_tests = s->athletes[c->athlete].test_count;
    Date *test_date = mem_new(most_tests, sizeof *test_date);
    double *test_value = mem_new(most_tests, sizeof *test_value);
    PictureEvent *events = mem_new(s->event_count, sizeof *events);
    Text name = {0}, words = {0}, label = {0}, test = {0}, title = {0};
    StatusCode code;
    bool same_scale;
    size_t skip = left_out(c, gallery), days = v->days - skip;
    Date first = c->outlook.first + (Date)skip;
    size_t tests =
        pick_tests(c, first, test_date, test_value, &same_scale, &test);
    size_t event_count = pick_events(c, first, days, events);
    PictureWeek *weeks = mem_new(days / 7 + 2, sizeof *weeks);
    size_t week_count = pick_weeks(c, first, days, weeks);
    text_add(&title, "%s: load, fitness, fatigue and readiness", c->name);
    words_model_short(case_model(c), &words);
    if (v->low)
        text_add(&words, "; 90 %% range grey%s",
                 case_model(c)->scaled ? "" : " of the change since today");
    words_readiness(case_model(c), &label);
    output_file_name(c, what, &name);
    {
        SeasonPicture picture = {
            .title = text_of(&title),
            .subtitle = text_of(&words),
            .load_label = load_method_unit(s->method),
            .readiness_label = text_of(&label),
            .test_label = text_of(&test),
            .first = first,
            .days = days,
            .log_days = c->outlook.log_days - skip,
            .load = v->load + skip,
            .fitness = v->fitness + skip,
            .fatigue = v->fatigue + skip,
            .readiness = v->readiness + skip,
            .low = v->low ? v->low + skip : NULL,
            .high = v->high ? v->high + skip : NULL,
            .test_date = test_date,
            .test_value = test_value,
            .tests = tests,
            .same_scale = same_scale,
            .event = events,
            .events = event_count,
            .week = weeks,
            .weeks = week_count,
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
    free(weeks);
    return code;
}
