/* sessions: see sessions.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/sessions.h"

#include "base/mem.h"
#include "commands/course.h"
#include "commands/curves.h"
#include "present/event_pictures.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Both courses, and the level of normal training: readiness on the event's
 * first day with no taper. */
typedef struct {
    Course none, taper;
    double level; /* [readiness] */
} Close;

static void close_build(const Verdict *v, Close *w) {
    const Case *c = v->c;
    const Outlook *o = &c->outlook;
    const Search *s = &v->search;
    double *cut = mem_new(o->window, sizeof *cut);
    course_build(c, o, cut, &w->none);
    option_cuts(&s->items[s->recommended].option, o->window, cut);
    course_build(c, o, cut, &w->taper);
    w->level = w->none.mean[o->read_step[o->event_day]];
    free(cut);
}

static void close_free(Close *w) {
    course_free(&w->none);
    course_free(&w->taper);
}

/* ---- before each session ---- */

static void session_words(const Outlook *o, size_t at, Text *text) {
    const OutlookSession *s = &o->session[at];
    char day[DATE_TEXT];
    text_add(text, "%s", date_write_short(day, o->first + (Date)s->day));
    if (s->minute >= 0)
        text_add(text, " %02d:%02d", s->minute / 60, s->minute % 60);
}

static void cell_band(Grid *grid, const Case *c, const Course *v, size_t step,
                      double scale) {
    double low = case_shown(c, v->low[step]),
           high = case_shown(c, v->high[step]);
    char one[FIGURE_TEXT], other[FIGURE_TEXT];
    grid_cell(grid, "%s", figure(one, case_shown(c, v->mean[step]), scale));
    if (isfinite(low))
        grid_cell(grid, "%s to %s", figure(one, fmin(low, high), scale),
                  figure(other, fmax(low, high), scale));
    else
        grid_cell(grid, "-");
}

static void print_table(const Verdict *v, const Close *w, FILE *to) {
    static const GridColumn columns[] = {{"before the\nsession of", false},
                                         {"no\ntaper", true},
                                         {"\n5-95 %", true},
                                         {"recom-\nmended", true},
                                         {"\n5-95 %", true},
                                         {"gain", true}};
    const Outlook *o = &v->c->outlook;
    double scale = verdict_scale(v);
    Grid grid;
    grid_start(&grid, columns, 6);
    for (size_t i = 0; i < o->session_count; i++) {
        size_t step = o->session[i].step;
        double gain = w->taper.mean[step] - w->none.mean[step];
        char number[FIGURE_TEXT];
        Text text = {0};
        session_words(o, i, &text);
        grid_cell(&grid, "%s", text_of(&text));
        cell_band(&grid, v->c, &w->none, step, scale);
        cell_band(&grid, v->c, &w->taper, step, scale);
        grid_cell(&grid, "%s%s", gain >= 0 ? "+" : "",
                  figure(number, gain, scale));
        text_free(&text);
    }
    grid_print(&grid, to, 20);
    grid_free(&grid);
}

/* What of the table is assumed. */
static void print_assumed(const Verdict *v, FILE *to) {
    const Event *event = v->c->event;
    Text text = {0};
    if (event_minutes_taken(event))
        text_add(&text,
                 "Only the first start_time is given; the next session is "
                 "taken %d h later (\"09:00 15:30\" names each). ",
                 EVENT_APART / 60);
    else if (event->minute < 0 && event->sessions_per_day > 1)
        text_add(&text,
                 "%d sessions a day without a start_time: all fall at one "
                 "moment, so only the first is shown (\"09:00 15:30\" names "
                 "each). ",
                 event->sessions_per_day);
    if (event->sessions_per_day > 1 && v->c->outlook.event_load > 0)
        text_add(&text, "The day's load is shared out evenly among its "
                        "sessions.");
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* The session at which readiness is lowest under the recommended taper. */
static void print_lowest(const Verdict *v, const Close *w, FILE *to) {
    const Outlook *o = &v->c->outlook;
    size_t lowest = 0;
    Text text = {0};
    char fall[FIGURE_TEXT];
    for (size_t i = 1; i < o->session_count; i++)
        if (w->taper.mean[o->session[i].step] <
            w->taper.mean[o->session[lowest].step])
            lowest = i;
    if (lowest == 0) {
        text_add(&text, "The first session is the one with the least "
                        "readiness.");
    } else {
        text_add(&text, "Readiness is least before the session of ");
        session_words(o, lowest, &text);
        text_add(&text, ", %s below the first.",
                 figure(fall,
                        w->taper.mean[o->session[0].step] -
                            w->taper.mean[o->session[lowest].step],
                        verdict_scale(v)));
    }
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* ---- after the event ---- */

enum { NEVER = OUTLOOK_TAIL + 1 };

/* First day after the event, 1 the next, on which readiness is at the level
 * again; NEVER within the days looked at. `last` is the last of them. */
static int day_back(const Verdict *v, const double *readiness, size_t stride,
                    double level, int last) {
    const Outlook *o = &v->c->outlook;
    for (int day = 1; day <= last; day++) {
        size_t at = o->event_day + o->event_days + (size_t)day - 1;
        if (readiness[o->read_step[at] * stride] >= level - 1e-9 * fabs(level))
            return day;
    }
    return NEVER;
}

/* Days until the next event, which ends the usual week. */
static int count_free_days(const Verdict *v) {
    const Case *c = v->c;
    const Season *s = c->desk->season;
    Date end = c->event->start + c->event->days;
    int days = OUTLOOK_TAIL;
    for (size_t i = 0; i < s->event_count; i++)
        if (&s->events[i] != c->event &&
            event_concerns(&s->events[i], c->athlete) &&
            s->events[i].start >= end && s->events[i].start - end < days)
            days = s->events[i].start - end;
    return days;
}

static int by_size(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

/* 5 % and 95 % points over the draws, each against its own level. The courses'
 * draws are ordered by size, so they are run again. */
static bool back_range(const Verdict *v, int last, int *low, int *high) {
    const Outlook *o = &v->c->outlook;
    const Draws *draws = case_draws(v->c);
    const Search *s = &v->search;
    size_t n = draws->count, steps = o->timeline.steps;
    size_t first = o->read_step[o->event_day];
    double *cut = mem_new(o->window, sizeof *cut);
    double *load = mem_new(steps, sizeof *load);
    double *none = mem_new(n * steps, sizeof *none);
    double *taper = mem_new(n * steps, sizeof *taper);
    int *day = mem_new(n, sizeof *day);
    Timeline line = o->timeline;
    option_cuts(&s->items[s->recommended].option, o->window, cut);
    outlook_apply(o, cut, load);
    line.load = load;
    if (n > 0) {
        kernel_batch(n, draws->set, &o->timeline, READ_BEFORE, none);
        kernel_batch(n, draws->set, &line, READ_BEFORE, taper);
    }
    for (size_t i = 0; i < n; i++)
        day[i] = day_back(v, taper + i, n, none[first * n + i], last);
    qsort(day, n, sizeof *day, by_size);
    *low = n ? day[(size_t)(.05 * (double)(n - 1))] : NEVER;
    *high = n ? day[(size_t)(.95 * (double)(n - 1))] : NEVER;
    free(cut);
    free(load);
    free(none);
    free(taper);
    free(day);
    return n > 0;
}

static void add_days(Text *text, int days, int last) {
    if (days == NEVER)
        text_add(text, "more than %d days", last);
    else
        text_add(text, "%d day%s", days, days == 1 ? "" : "s");
}

static void add_range(const Verdict *v, int last, Text *text) {
    int low, high;
    if (!back_range(v, last, &low, &high))
        return;
    text_add(text, " (5-95 %% of the likely models: ");
    add_days(text, low, last);
    if (low != high) {
        text_add(text, " to ");
        add_days(text, high, last);
    }
    text_add(text, ")");
}

static void print_back(const Verdict *v, const Close *w, FILE *to) {
    const Case *c = v->c;
    int last = count_free_days(v);
    int days = day_back(v, w->taper.mean, 1, w->level, last);
    Text text = {0};
    char day[DATE_TEXT];
    if (last == 0)
        return;
    text_add(&text, "After the event, on the usual week, readiness is back at "
                    "the level of normal training ");
    if (days == NEVER) {
        text_add(&text, "after more than %d days", last);
    } else {
        text_add(&text, "after ");
        add_days(&text, days, last);
        text_add(
            &text, ", on %s",
            date_write_short(day, c->event->start + c->event->days - 1 + days));
    }
    add_range(v, last, &text);
    if (last < OUTLOOK_TAIL)
        text_add(&text, "; the next event begins %d day%s after this one", last,
                 last == 1 ? "" : "s");
    text_add(&text, ". That level is readiness on the event's first morning "
                    "without a taper; the model knows no soreness or injury.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

void sessions_print(const Verdict *v, FILE *to) {
    const Outlook *o = &v->c->outlook;
    Close w;
    close_build(v, &w);
    if (o->session_count > 1) {
        fputs("\nReadiness before each session of the event:\n\n", to);
        print_table(v, &w, to);
        fputc('\n', to);
        print_lowest(v, &w, to);
    }
    print_assumed(v, to);
    print_back(v, &w, to);
    close_free(&w);
}

/* ---- picture ---- */

enum { DAYS_BEFORE = 3, DAYS_AFTER = 5 }; /* [d] shown */

static PictureReading reading_at(const Verdict *v, const Close *w, size_t step,
                                 double time, bool session) {
    const Case *c = v->c;
    const Course *n = &w->none, *t = &w->taper;
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
static size_t list_readings(const Verdict *v, const Close *w,
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

StatusCode sessions_draw(const Verdict *v, const Gallery *gallery, Text *paths,
                         Status *status) {
    const Outlook *o = &v->c->outlook;
    const Option *option = &v->search.items[v->search.recommended].option;
    PictureReading *reading = mem_new(
        o->session_count + DAYS_BEFORE + DAYS_AFTER + 1, sizeof *reading);
    Text title = {0}, words = {0}, label = {0}, name = {0}, spec = {0};
    Text labels = {0};
    StatusCode code;
    Close w;
    close_build(v, &w);
    text_add(&title, "%s: %s, session by session", v->c->name,
             v->c->event->name);
    model_short(case_model(v->c), &words);
    if (w.none.draws)
        text_add(&words, "; bars: 5-95 %%%s",
                 case_model(v->c)->scaled ? "" : " of the change since today");
    readiness_label(case_model(v->c), &label);
    option_write(option, &spec);
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
    close_free(&w);
    text_free(&title);
    text_free(&words);
    text_free(&label);
    text_free(&name);
    text_free(&spec);
    text_free(&labels);
    free(reading);
    return code;
}
