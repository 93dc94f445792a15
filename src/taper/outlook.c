/* outlook: see outlook.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/outlook.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Load of each day of an event [load/d]. */
static double event_load(const Usual *u, const Event *event, bool *guessed) {
    double session;
    *guessed = false;
    if (isfinite(event->load_per_day))
        return event->load_per_day;
    if (event->sessions_per_day == 0)
        return 0;
    session = usual_median(u->season, u->athlete, NULL, KIND_MATCH);
    if (!isfinite(session))
        session = usual_median(u->season, u->athlete, NULL, KIND_OTHER);
    *guessed = isfinite(session);
    return *guessed ? event->sessions_per_day * session : 0;
}

/* Its load on one of its days; none for one who is off then [load]. */
static double day_load(const Usual *u, const Event *event, Date date) {
    const Absence *a = season_absence(u->season, u->athlete, date);
    bool guessed;
    return !u->as_issued && season_share(a, date) <= 0
               ? 0
               : event_load(u, event, &guessed);
}

/* The other event that a day belongs to, or NULL. */
static const Event *other_event(const Usual *u, const Event *event, Date day) {
    for (size_t i = 0; i < u->season->event_count; i++) {
        const Event *other = &u->season->events[i];
        if (other != event && event_concerns(other, u->athlete) &&
            day >= other->start && day < other->start + other->days)
            return other;
    }
    return NULL;
}

double outlook_day(const Usual *u, Date date, const Event **event) {
    PlannedSession sessions[USUAL_MOST];
    double sum = 0;
    size_t count;
    *event = other_event(u, NULL, date);
    if (*event)
        return day_load(u, *event, date);
    count = usual_day(u, date, sessions);
    for (size_t i = 0; i < count; i++)
        sum += sessions[i].load;
    return sum;
}

/* Sessions of the log, for the weeks that reach into it; a load of 0 is rest.
 */
static void count_logged(Outlook *o, const Usual *u) {
    const Athlete *a = &u->season->athletes[u->athlete];
    for (size_t i = 0; i < a->session_count; i++) {
        size_t day = (size_t)(a->sessions[i].date - o->first);
        if (day < o->log_days && a->sessions[i].load > 0)
            o->kept[day] = ++o->sessions[day];
    }
}

static void plan_day(Outlook *o, const Usual *u, size_t day) {
    PlannedSession sessions[USUAL_MOST];
    Date date = o->first + (Date)day;
    const Event *other = other_event(u, o->event, date);
    size_t count;
    if (day >= o->event_day && day < o->event_day + o->event_days) {
        o->fixed[day] = day_load(u, o->event, date);
        return;
    }
    if (other) {
        o->fixed[day] = day_load(u, other, date);
        o->kept[day] = o->sessions[day] =
            other->sessions_per_day ? other->sessions_per_day : 1;
        return;
    }
    count = usual_day(u, date, sessions);
    o->sessions[day] = (int)count;
    for (size_t i = 0; i < count; i++)
        o->kept[day] += sessions[i].keep;
    for (size_t i = 0; i < count; i++)
        *(sessions[i].keep || day > o->event_day ? &o->fixed[day]
                                                 : &o->cuttable[day]) +=
            sessions[i].load;
}

/* Days just before the event that lie after today and after any other event. */
static void set_window(Outlook *o, const Usual *u) {
    Date day = o->event->start - 1;
    while (day > u->season->today && day >= o->first + (Date)o->log_days &&
           !other_event(u, o->event, day)) {
        o->window++;
        day--;
    }
}

static void sum_window(Outlook *o) {
    o->may_go = o->stays = 0;
    for (size_t day = o->event_day - o->window; day < o->event_day; day++) {
        o->may_go += o->cuttable[day];
        o->stays += o->fixed[day];
    }
}

void outlook_widen(Outlook *o, const Usual *u) {
    size_t least = o->log_days;
    Date today = u->season->today;
    if (today >= o->first + (Date)least)
        least = (size_t)(today - o->first) + 1;
    o->window = o->event_day > least ? o->event_day - least : 0;
    sum_window(o);
}

/* One moment of the timeline: a reading or a load. */
typedef struct {
    double time, load;
    size_t day;
    bool reading, planned;
    size_t session; /* 1 + index into Outlook.session; 0: none */
} Moment;

static int by_time(const void *a, const void *b) {
    const Moment *x = a, *y = b;
    if (x->time != y->time)
        return x->time < y->time ? -1 : 1;
    if (x->reading != y->reading)
        return x->reading ? -1 : 1;
    return x->day < y->day ? -1 : x->day > y->day;
}

static bool in_event(const Outlook *o, size_t day) {
    return o->event && day >= o->event_day &&
           day < o->event_day + o->event_days;
}

/* The event that a planned day belongs to, or NULL. */
static const Event *event_on(const Outlook *o, const Usual *u, size_t day) {
    return in_event(o, day) ? o->event
                            : other_event(u, o->event, o->first + (Date)day);
}

static double planned_time(const Daily *d, const Event *event, size_t day) {
    if (!d->timed)
        return (double)day;
    if (event && event->minute >= 0)
        return (double)day + event->minute / 1440.0;
    return (double)day + DAILY_NOON;
}

/* What a planned day takes up, on an event's day session by session. */
static size_t list_loads(Outlook *o, const Event *event, size_t day,
                         Moment *moment) {
    int minute[EVENT_SESSIONS] = {-1};
    int count = event ? event_minutes(event, minute) : 1;
    for (int i = 0; i < count; i++) {
        double later = (minute[i] - minute[0]) / 1440.0;
        moment[i] = (Moment){.time = o->load_time[day] + later,
                             .day = day,
                             .planned = i == 0,
                             .load = outlook_planned(o, day) / count};
        if (!in_event(o, day))
            continue;
        o->session[o->session_count] = (OutlookSession){day, minute[i], 0};
        moment[i].session = ++o->session_count;
    }
    return (size_t)count;
}

static size_t list_moments(Outlook *o, const Usual *u, const Daily *d,
                           Moment *moment) {
    size_t n = 0;
    for (size_t i = 0; i < d->impulses; i++)
        moment[n++] = (Moment){.time = d->time[i], .load = d->dose[i]};
    for (size_t i = 0; i < o->days; i++) {
        bool logged = i < o->log_days;
        const Event *event = logged ? NULL : event_on(o, u, i);
        double time = logged ? d->reading[i] : planned_time(d, event, i);
        o->read_time[i] = o->load_time[i] = time;
        moment[n++] = (Moment){.time = time, .day = i, .reading = true};
        if (!logged)
            n += list_loads(o, event, i, moment + n);
    }
    qsort(moment, n, sizeof *moment, by_time);
    return n;
}

/* Moments at the same time become one step: read, then take up the loads. */
static void make_steps(Outlook *o, const Moment *moment, size_t n) {
    size_t step = 0;
    for (size_t i = 0; i < n; i++) {
        bool opens = i == 0 || moment[i].time > moment[i - 1].time;
        if (i > 0 && opens)
            step++;
        if (opens) {
            o->gap[step] = i ? moment[i].time - moment[i - 1].time : 0;
            o->load[step] = 0;
        }
        o->load[step] += moment[i].load;
        o->after_step[(size_t)moment[i].time] = step;
        if (moment[i].reading)
            o->read_step[moment[i].day] = step;
        if (moment[i].planned)
            o->load_step[moment[i].day] = step;
        if (moment[i].session)
            o->session[moment[i].session - 1].step = step;
    }
    o->timeline.steps = n ? step + 1 : 0;
    o->timeline.gap = o->gap;
    o->timeline.load = o->load;
}

static void make_timeline(Outlook *o, const Usual *u, const Daily *d,
                          double before) {
    size_t most =
        d->impulses + o->days + (o->days - o->log_days) * EVENT_SESSIONS;
    Moment *moment = mem_new(most, sizeof *moment);
    size_t n;
    o->gap = mem_new(most, sizeof *o->gap);
    o->load = mem_new(most, sizeof *o->load);
    o->read_step = mem_new(o->days, sizeof *o->read_step);
    o->after_step = mem_new(o->days, sizeof *o->after_step);
    o->load_step = mem_new(o->days, sizeof *o->load_step);
    o->read_time = mem_new(o->days, sizeof *o->read_time);
    o->load_time = mem_new(o->days, sizeof *o->load_time);
    o->session = mem_new(o->event_days * EVENT_SESSIONS, sizeof *o->session);
    n = list_moments(o, u, d, moment);
    make_steps(o, moment, n);
    o->timeline.before = before;
    o->timeline.before_age =
        d->timed && n ? 1 - DAILY_NOON + moment[0].time : 1;
    free(moment);
}

void outlook_build(const Usual *u, const Daily *d, const Event *event,
                   double before, Outlook *o) {
    *o = (Outlook){.first = d->first, .log_days = d->days, .event = event};
    o->days = d->days;
    if (event) {
        o->event_day = (size_t)(event->start - d->first);
        o->event_days = (size_t)event->days;
        o->days = o->event_day + o->event_days + OUTLOOK_TAIL;
        o->event_load = event_load(u, event, &o->event_load_guessed);
        set_window(o, u);
    }
    o->cuttable = mem_new(o->days, sizeof *o->cuttable);
    o->fixed = mem_new(o->days, sizeof *o->fixed);
    o->sessions = mem_new(o->days, sizeof *o->sessions);
    o->kept = mem_new(o->days, sizeof *o->kept);
    count_logged(o, u);
    memcpy(o->fixed, d->load, d->days * sizeof *o->fixed);
    for (size_t day = o->log_days; day < o->days; day++)
        plan_day(o, u, day);
    sum_window(o);
    make_timeline(o, u, d, before);
}

void outlook_free(Outlook *o) {
    free(o->cuttable);
    free(o->fixed);
    free(o->sessions);
    free(o->kept);
    free(o->gap);
    free(o->load);
    free(o->read_step);
    free(o->after_step);
    free(o->load_step);
    free(o->read_time);
    free(o->load_time);
    free(o->session);
    *o = (Outlook){0};
}

double outlook_planned(const Outlook *o, size_t day) {
    return o->cuttable[day] + o->fixed[day];
}

size_t outlook_start(const Outlook *o) {
    return o->read_step[o->event_day - o->window];
}

void outlook_apply(const Outlook *o, const double *cut, double *load) {
    memcpy(load, o->load, o->timeline.steps * sizeof *load);
    for (size_t u = 1; u <= o->window; u++) {
        size_t day = o->event_day - u;
        load[o->load_step[day]] -= cut[u - 1] * o->cuttable[day];
    }
}
