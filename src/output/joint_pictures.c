/* joint_pictures: see joint_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/joint_pictures.h"

#include "answers/band.h"
#include "answers/joint_peaks.h"
#include "base/mem.h"
#include "output/output.h"
#include "output/words.h"
#include "present/event_pictures.h"

#include <math.h>
#include <stdlib.h>

enum { DAYS_BEFORE = 14 }; /* [d] shown before today */

/* What the picture shows of each day. */
typedef struct {
    size_t from, days;
    double *planned, *load, *none, *readiness, *low, *high;
} View;

static double *column(size_t days, const double *from) {
    double *to = mem_new(days, sizeof *to);
    for (size_t i = 0; i < days && from; i++)
        to[i] = from[i];
    return to;
}

static void view_build(const JointPeaks *p, View *v, PeaksPicture *shown) {
    const JointEvent *last = &p->events[p->count - 1];
    const Outlook *o = &last->wide;
    double *cut = mem_new(o->window, sizeof *cut);
    Band none, taper;
    band_build(p->c, o, cut, READ_BEFORE, &none);
    joint_cuts(p->events, p->count - 1, p->joint.recommended, cut);
    band_build(p->c, o, cut, READ_BEFORE, &taper);
    v->from = o->log_days > DAYS_BEFORE ? o->log_days - DAYS_BEFORE : 0;
    v->days = o->event_day + o->event_days - v->from;
    v->planned = column(v->days, NULL);
    v->load = column(v->days, NULL);
    v->none = column(v->days, NULL);
    v->readiness = column(v->days, NULL);
    v->low = column(v->days, NULL);
    v->high = column(v->days, NULL);
    for (size_t i = 0; i < v->days; i++) {
        size_t day = v->from + i, step = o->read_step[day];
        size_t u = day < o->event_day ? o->event_day - day : 0;
        double low = case_shown(p->c, taper.low[step]);
        double high = case_shown(p->c, taper.high[step]);
        v->planned[i] = v->load[i] = outlook_planned(o, day);
        if (u >= 1 && u <= o->window)
            v->load[i] -= cut[u - 1] * o->cuttable[day];
        v->none[i] = case_shown(p->c, none.mean[step]);
        v->readiness[i] = case_shown(p->c, taper.mean[step]);
        v->low[i] = fmin(low, high);
        v->high[i] = fmax(low, high);
    }
    band_free(&none);
    band_free(&taper);
    free(cut);
    shown->first = p->c->outlook.first + (Date)v->from;
    shown->days = v->days;
    shown->planned = v->planned;
    shown->load = v->load;
    shown->none = v->none;
    shown->readiness = v->readiness;
    shown->low = v->low;
    shown->high = v->high;
}

static void view_free(View *v) {
    free(v->planned);
    free(v->load);
    free(v->none);
    free(v->readiness);
    free(v->low);
    free(v->high);
}

static void peaks_title(const JointPeaks *p, Text *title) {
    text_add(title, "%s: %zu peaks%s", p->c->name, p->count,
             p->silent ? "" : ", weighed together");
}

static void peaks_subtitle(const JointPeaks *p, Text *words) {
    if (p->silent)
        text_add(words,
                 "published tapers, since %s; the model's curves are no "
                 "forecast",
                 p->tested ? "tests tell little" : "there are no tests");
    else
        words_model_short(case_model(p->c), words);
    text_add(words, "; tapers");
    for (size_t k = 0; k < p->count; k++) {
        text_add(words, "%s", k ? ", then " : " ");
        option_write(&p->joint.recommended[k], words);
    }
}

/* Marks of the events, and the first day of each one's taper. */
static void peaks_events(const JointPeaks *p, PictureEvent *event, Date *from) {
    for (size_t k = 0; k < p->count; k++) {
        const Event *e = p->peaks[k].event;
        const Option *option = &p->joint.recommended[k];
        event[k] = (PictureEvent){e->start, e->days, e->name};
        from[k] =
            option->count ? e->start - (Date)option_days(option) : DATE_NONE;
    }
}

static StatusCode draw_peaks(const JointPeaks *p, const Gallery *gallery,
                             Text *paths, Status *status) {
    const Season *season = p->c->context->season;
    PictureEvent *event = mem_new(p->count, sizeof *event);
    Date *from = mem_new(p->count, sizeof *from);
    Text title = {0}, words = {0}, label = {0}, name = {0};
    PeaksPicture picture = {.load_label = load_method_unit(season->method),
                            .event = event,
                            .taper_from = from,
                            .events = p->count,
                            .today = season->today};
    View v;
    StatusCode code;
    view_build(p, &v, &picture);
    peaks_events(p, event, from);
    peaks_title(p, &title);
    peaks_subtitle(p, &words);
    words_readiness(p->c, &label);
    output_file_name(p->c, "peaks", &name);
    picture.title = text_of(&title);
    picture.subtitle = text_of(&words);
    picture.readiness_label = text_of(&label);
    code = picture_peaks(&picture, gallery, text_of(&name), paths, status);
    view_free(&v);
    text_free(&title);
    text_free(&words);
    text_free(&label);
    text_free(&name);
    free(event);
    free(from);
    return code;
}

StatusCode joint_pictures_draw(const void *answers, size_t at,
                               const Gallery *gallery, Text *paths,
                               Status *status) {
    const JointPeaks *p = (const JointPeaks *)answers + at;
    return p->count > 0 ? draw_peaks(p, gallery, paths, status) : STATUS_OK;
}
