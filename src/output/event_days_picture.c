/* event_days_picture: see event_days_picture.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/event_days_picture.h"

#include "answers/recovery.h"
#include "base/mem.h"
#include "output/output.h"
#include "output/team_text.h"
#include "output/words.h"
#include "present/event_pictures.h"

#include <stdlib.h>
#include <string.h>

enum { DAYS_BEFORE = 3, DAYS_AFTER = 5 }; /* [d] shown */

static PictureReading reading_at(const BestTaper *v, const Recovery *w,
                                 size_t step, double time, bool session) {
    const Case *c = v->c;
    const Band *n = &w->none, *t = &w->taper;
    return (PictureReading){time,
                            session,
                            case_shown(c, n->mean[step]),
                            case_shown(c, n->low[step]),
                            case_shown(c, n->high[step]),
                            case_shown(c, t->mean[step]),
                            case_shown(c, t->low[step]),
                            case_shown(c, t->high[step])};
}

/* Readings in order of time; returns how many. */
static size_t list_readings(const BestTaper *v, const Recovery *w,
                            PictureReading *reading) {
    const Outlook *o = &v->c->outlook;
    size_t count = 0, session = 0;
    size_t from = o->event_day > DAYS_BEFORE ? o->event_day - DAYS_BEFORE : 0;
    size_t to = o->event_day + o->event_days + DAYS_AFTER;
    for (size_t day = from; day < to && day < o->days; day++) {
        double start = (double)day - (double)o->event_day;
        double first = o->read_time[day] - (double)day;
        if (session >= o->session_count || o->session[session].day != day) {
            reading[count++] =
                reading_at(v, w, o->read_step[day], start + first, false);
            continue;
        }
        for (size_t begin = session;
             session < o->session_count && o->session[session].day == day;
             session++) {
            double later =
                (o->session[session].minute - o->session[begin].minute) /
                1440.0;
            reading[count++] = reading_at(v, w, o->session[session].step,
                                          start + first + later, true);
        }
    }
    return count;
}

static void list_labels(const Outlook *o, Text *text) {
    for (size_t i = 0; i < o->session_count; i++) {
        const OutlookSession *s = &o->session[i];
        char day[DATE_TEXT];
        date_write_short(day, o->first + (Date)s->day);
        day[strcspn(day, " ")] = '\0';
        text_add(text, "%s%s", i ? " " : "", day);
        if (s->minute >= 0)
            text_add(text, "-%02d:%02d", s->minute / 60, s->minute % 60);
    }
}

StatusCode event_days_picture_draw(const BestTaper *v, const Gallery *gallery,
                                   Text *paths, Status *status) {
    const Outlook *o = &v->c->outlook;
    PictureReading *reading = mem_new(
        o->session_count + DAYS_BEFORE + DAYS_AFTER + 1, sizeof *reading);
    Text title = {0}, words = {0}, label = {0}, name = {0}, spec = {0};
    Text labels = {0};
    char day[DATE_TEXT];
    StatusCode code;
    Recovery w;
    recovery_build(v, &w);
    text_add(&title, "%s: %s, session by session", v->c->name,
             v->c->event->name);
    words_model_short(case_model(v->c), &words);
    if (w.none.draws)
        text_add(&words, "; bars: 90 %% range%s",
                 case_model(v->c)->scaled ? "" : " of the change since today");
    words_readiness(v->c, &label);
    if (best_taper_stands(v)) {
        text_add(&spec, "plan handed out on %s",
                 date_write_short(day, v->handed.issued));
    } else {
        team_text_tapers(v, &spec);
    }
    list_labels(o, &labels);
    output_file_name(v->c, "sessions", &name);
    {
        const SessionsPicture picture = {.title = text_of(&title),
                                         .subtitle = text_of(&words),
                                         .readiness_label = text_of(&label),
                                         .taper = text_of(&spec),
                                         .labels = text_of(&labels),
                                         .level = case_shown(v->c, w.level),
                                         .reading = reading,
                                         .readings =
                                             list_readings(v, &w, reading),
                                         .event_days = v->c->event->days};
        code =
            picture_sessions(&picture, gallery, text_of(&name), paths, status);
    }
    recovery_free(&w);
    text_free(&title);
    text_free(&words);
    text_free(&label);
    text_free(&name);
    text_free(&spec);
    text_free(&labels);
    free(reading);
    return code;
}
