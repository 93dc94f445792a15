/* compare_pictures: see compare_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/compare_pictures.h"

#include "answers/comparison.h"
#include "answers/curves.h"
#include "base/mem.h"
#include "output/output.h"
#include "output/words.h"
#include "present/option_pictures.h"

#include <math.h>
#include <stdlib.h>

static size_t options_shown(const Comparison *k) {
    return k->count < OPTIONS_SHOWN ? k->count : OPTIONS_SHOWN;
}

/* What the pictures of one athlete show: [days * options], day by day. */
typedef struct {
    size_t from, days, options;
    double *readiness, *low, *high; /* low and high NAN without draws */
} Strands;

static void strands_build(const Comparison *k, Strands *s) {
    const Outlook *o = &k->taper.c->outlook;
    size_t cells;
    s->from = o->event_day > DAYS_SHOWN ? o->event_day - DAYS_SHOWN : 0;
    s->days = o->event_day + o->event_days + 10 - s->from;
    s->options = options_shown(k);
    cells = s->days * s->options;
    s->readiness = mem_new(cells, sizeof *s->readiness);
    s->low = mem_new(cells, sizeof *s->low);
    s->high = mem_new(cells, sizeof *s->high);
    for (size_t i = 0; i < s->options; i++) {
        Case handed;
        bool own = k->rows[i].handed && handed_case(k->taper.c, &handed);
        Curves curves;
        curves_build(own ? &handed : k->taper.c, &k->rows[i].option,
                     READ_BEFORE, s->from + s->days, &curves);
        for (size_t d = 0; d < s->days; d++) {
            size_t cell = d * s->options + i, day = s->from + d;
            s->readiness[cell] = curves.readiness[day]; /* as shown */
            s->low[cell] = curves.low ? curves.low[day] : NAN;
            s->high[cell] = curves.high ? curves.high[day] : NAN;
        }
        curves_free(&curves);
        if (own)
            handed_case_free(&handed);
    }
}

static void strands_free(Strands *s) {
    free(s->readiness);
    free(s->low);
    free(s->high);
}

/* Readiness at the event: "34.1 (32.8 to 36.0)". */
static char *row_words(const Comparison *k, const ComparisonRow *row) {
    const BestTaper *v = &k->taper;
    char number[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = best_taper_scale(v);
    bool figures = case_has_figures(v->c);
    Text text = {0};
    char *words;
    if (figures)
        text_add(&text, "%s", words_level(number, v->c, row->readiness, scale));
    else
        text_add(&text, "%s of the largest gain",
                 words_percent(number, search_share(row->gain, v->possible)));
    if (figures && isfinite(row->spread.readiness_low))
        text_add(&text, " (%s to %s)",
                 words_figure(number, row->spread.readiness_low, scale),
                 words_figure(high, row->spread.readiness_high, scale));
    words = mem_copy(text_of(&text));
    text_free(&text);
    return words;
}

static StatusCode draw_fan(const Comparison *k, const Strands *s,
                           const ComparisonPicture *like,
                           const Gallery *gallery, const char *name,
                           Text *paths, Status *status) {
    char *words[OPTIONS_SHOWN];
    Text subtitle = {0};
    StatusCode code;
    FanPicture fan = {.of = *like,
                      .words = (const char *const *)words,
                      .low = s->low,
                      .high = s->high};
    for (size_t i = 0; i < s->options; i++)
        words[i] = row_words(k, &k->rows[i]);
    words_model_short(case_model(k->taper.c), &subtitle);
    if (!case_model(k->taper.c)->scaled && k->taper.draws.count)
        text_add(&subtitle, "; 90 %% range of the change since today");
    fan.of.subtitle = text_of(&subtitle);
    code = picture_fan(&fan, gallery, name, paths, status);
    for (size_t i = 0; i < s->options; i++)
        free(words[i]);
    text_free(&subtitle);
    return code;
}

StatusCode compare_pictures_draw(const void *answers, size_t at,
                                 const Gallery *gallery, Text *paths,
                                 Status *status) {
    const Comparison *k = (const Comparison *)answers + at;
    const Outlook *o = &k->taper.c->outlook;
    const char **names = mem_new(k->count, sizeof *names);
    Text title = {0}, words = {0}, label = {0}, name = {0};
    Strands s;
    StatusCode code;
    strands_build(k, &s);
    for (size_t i = 0; i < k->count; i++)
        names[i] = k->rows[i].name;
    text_add(&title, "%s: readiness to %s and after", k->taper.c->name,
             k->taper.c->event->name);
    words_model(case_model(k->taper.c), &words);
    words_readiness(k->taper.c, &label);
    output_file_name(k->taper.c, "comparison", &name);
    {
        ComparisonPicture picture = {.title = text_of(&title),
                                     .subtitle = text_of(&words),
                                     .readiness_label = text_of(&label),
                                     .names = names,
                                     .options = s.options,
                                     .readiness = s.readiness,
                                     .days = s.days,
                                     .first_offset =
                                         (int)s.from - (int)o->event_day,
                                     .event_days = (int)o->event_days};
        code = picture_comparison(&picture, gallery, text_of(&name), paths,
                                  status);
        text_clear(&name);
        output_file_name(k->taper.c, "fan", &name);
        if (code == STATUS_OK)
            code = draw_fan(k, &s, &picture, gallery, text_of(&name), paths,
                            status);
    }
    strands_free(&s);
    free(names);
    text_free(&title);
    text_free(&words);
    text_free(&label);
    text_free(&name);
    return code;
}
