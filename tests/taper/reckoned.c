/* reckoned: see reckoned.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "season/season.h"
#include "taper/option.h"
#include "taper/outlook.h"
#include "taper/score.h"

#include <math.h>
#include <stdlib.h>

static bool own_timed(const World *w) {
    for (size_t i = 0; i < w->season.session_count; i++)
        if (w->sessions[i].minute >= 0)
            return true;
    return false;
}

double own_time(const World *w, Date date, int minute) {
    double day = date - world_start;
    if (!own_timed(w))
        return day;
    return day + (minute < 0 ? .5 : minute / 1440.0);
}

const Event *own_event_on(const World *w, Date date) {
    for (size_t i = w->season.event_count; i-- > 0;)
        if (date >= w->events[i].start &&
            date < w->events[i].start + w->events[i].days)
            return &w->events[i];
    return NULL;
}

size_t own_rows(const World *w, Date date, const WeekRow **rows) {
    size_t count = 0;
    bool dated = false, off = false;
    for (size_t i = 0; i < w->season.week_count; i++)
        dated = dated || w->week[i].date == date;
    for (size_t i = 0; i < w->season.week_count; i++) {
        const WeekRow *row = &w->week[i];
        if (dated
                ? row->date != date
                : row->date != DATE_NONE || row->weekday != date_weekday(date))
            continue;
        off = off || row->off;
        rows[count++] = row;
    }
    return off ? 0 : count;
}

DayLoad own_planned(const World *w, Date date) {
    const WeekRow *rows[ROWS_MOST];
    const Event *event = own_event_on(w, date);
    DayLoad load = {0, 0};
    size_t count;
    if (event)
        return (DayLoad){0, event->load_per_day};
    count = own_rows(w, date, rows);
    for (size_t i = 0; i < count; i++)
        *(rows[i]->keep ? &load.fixed : &load.cuttable) += rows[i]->load;
    return load;
}

size_t own_window(const World *w) {
    size_t window = 0;
    for (Date date = w->event->start - 1;
         date > w->season.today && !own_event_on(w, date); date--)
        window++;
    return window;
}

double own_influence(const World *w, double age) {
    const double *v = w->params.value;
    double sum;
    if (age <= 0)
        return 0;
    sum = v[PARAM_K1] * exp(-age / v[PARAM_TAU1]);
    if (w->params.kind == RESPONSE_DELAYED)
        sum -= v[PARAM_K1] * exp(-age / v[PARAM_TAU_RISE]);
    if (isfinite(v[PARAM_K2]))
        sum -= v[PARAM_K2] * exp(-age / v[PARAM_TAU2]);
    return sum;
}

/* 1 a day for ever, the last `age` days ago. */
static double own_series(double age, double tau) {
    return exp(-age / tau) / (1 - exp(-1 / tau));
}

/* Days from the last load before the log to a time. */
static double own_past(const World *w, double time) {
    return time + (own_timed(w) ? .5 : 1);
}

/* What a unit a day for ever before the log still does at a time. */
static double own_before(const World *w, double time) {
    const double *v = w->params.value;
    double age = own_past(w, time);
    double sum = v[PARAM_K1] * own_series(age, v[PARAM_TAU1]);
    if (w->params.kind == RESPONSE_DELAYED)
        sum -= v[PARAM_K1] * own_series(age, v[PARAM_TAU_RISE]);
    if (isfinite(v[PARAM_K2]))
        sum -= v[PARAM_K2] * own_series(age, v[PARAM_TAU2]);
    return sum;
}

static int dose_order(const void *a, const void *b) {
    const Dose *x = a, *y = b;
    return (x->time > y->time) - (x->time < y->time);
}

/* Fatigue of a variable-dose model (Busso 2003): each load times the recent
 * loads, its own moment's among them. Sorts the doses. */
static double own_dose_fatigue(const World *w, Doses *d, double read) {
    const double *v = w->params.value;
    double tau2 = v[PARAM_TAU2], tau3 = v[PARAM_TAU3], recent = 0, last = 0;
    double sum = w->before * w->before * own_series(0, tau3) *
                 own_series(own_past(w, read), tau2);
    qsort(d->dose, d->count, sizeof *d->dose, dose_order);
    for (size_t i = 0, next; i < d->count; i = next) {
        double time = d->dose[i].time, load = 0;
        for (next = i; next < d->count && d->dose[next].time == time; next++)
            load += d->dose[next].load;
        recent = recent * exp(-(time - last) / tau3) + load;
        last = time;
        sum += load * exp(-(read - time) / tau2) *
               (recent + w->before * own_series(own_past(w, time), tau3));
    }
    return v[PARAM_K3] * sum;
}

double own_load(const World *w, Date date, const double *cut) {
    DayLoad load = own_planned(w, date);
    Date u = w->event->start - date;
    if (u < 1 || (size_t)u > own_window(w))
        return load.cuttable + load.fixed;
    return (1 - cut[u - 1]) * load.cuttable + load.fixed;
}

static void add_dose(Doses *d, double time, double load, double read) {
    if (time < read)
        d->dose[d->count++] = (Dose){time, load};
}

double own_sum(const World *w, Doses *d, double read) {
    double sum = w->params.value[PARAM_P0] + w->before * own_before(w, read);
    for (size_t i = 0; i < d->count; i++)
        sum += d->dose[i].load * own_influence(w, read - d->dose[i].time);
    if (isfinite(w->params.value[PARAM_K3]))
        sum -= own_dose_fatigue(w, d, read);
    return sum;
}

void add_log(const World *w, Doses *d, double read) {
    for (size_t i = 0; i < w->season.session_count; i++) {
        const Session *s = &w->sessions[i];
        add_dose(d, own_time(w, s->date, s->minute), s->load, read);
    }
}

double own_readiness(const World *w, const double *cut, int e) {
    static Doses d;
    const Event *event = w->event;
    double read = own_time(w, event->start + e, event->minute);
    d.count = 0;
    add_log(w, &d, read);
    for (Date date = w->season.last + 1; date < event->start + e; date++) {
        const Event *on = own_event_on(w, date);
        int minute = on ? on->minute : -1;
        add_dose(&d, own_time(w, date, minute), own_load(w, date, cut), read);
    }
    return own_sum(w, &d, read);
}

static double own_aim(Aim aim, const double *value, size_t days) {
    double sum = 0, lowest = value[0];
    for (size_t e = 0; e < days; e++) {
        sum += value[e];
        lowest = value[e] < lowest ? value[e] : lowest;
    }
    if (aim == AIM_FIRST)
        return value[0];
    if (aim == AIM_LAST)
        return value[days - 1];
    return aim == AIM_LOWEST ? lowest : sum / (double)days;
}

double own_score(const World *w, Aim aim, const double *cut) {
    double value[8];
    for (int e = 0; e < w->event->days; e++)
        value[e] = own_readiness(w, cut, e);
    return own_aim(aim, value, (size_t)w->event->days);
}

double kernel_score(const World *w, Aim aim, const double *cut) {
    enum { STEPS = 2 * DAYS_MOST + SESSIONS_MOST };
    static double load[STEPS], fitness[STEPS], fatigue[STEPS];
    const Outlook *o = &w->outlook;
    Timeline line = o->timeline;
    double value[8];
    outlook_apply(o, cut, load);
    line.load = load;
    kernel_run(&w->params, &line, READ_BEFORE, fitness, fatigue);
    for (size_t e = 0; e < o->event_days; e++) {
        size_t step = o->read_step[o->event_day + e];
        value[e] = w->params.value[PARAM_P0] + fitness[step] - fatigue[step];
    }
    return own_aim(aim, value, o->event_days);
}

double size_of(const World *w) {
    const double *v = w->params.value;
    double most = w->before + 2000;
    double gain = isfinite(v[PARAM_K2]) ? v[PARAM_K2] : 0;
    if (isfinite(v[PARAM_K3]))
        gain += v[PARAM_K3] * most * (v[PARAM_TAU3] + 1);
    return fabs(v[PARAM_P0]) +
           most * (v[PARAM_K1] * v[PARAM_TAU1] + gain * v[PARAM_TAU2]);
}

const double no_cut[DAYS_MOST] = {0};

void own_cuts(const Option *option, double *cut, size_t window) {
    double day[DAYS_MOST];
    size_t count = 0;
    for (int k = 0; k < option->count; k++) {
        const OptionPart *p = &option->part[k];
        for (int i = 0; i < p->days; i++) {
            double x = p->days > 1 ? i / (double)(p->days - 1) : 1;
            double kept = (1 - x) * (100 - p->from) + x * (100 - p->to);
            if (p->fall == '~')
                kept = pow(100 - p->from, 1 - x) * pow(100 - p->to, x);
            day[count++] = 1 - kept / 100;
        }
    }
    for (size_t u = 1; u <= window; u++)
        cut[u - 1] = u <= count ? day[count - u] : 0;
}

void check_score(const World *w, const Score *score, double value,
                 const double *cut) {
    double size = size_of(w);
    CU_ASSERT(fabs(value - kernel_score(w, score->aim, cut)) <= 1e-9 * size);
    ASSERT_NEAR(value, kernel_score(w, score->aim, cut), 1e-9);
    CU_ASSERT(fabs(value - own_score(w, score->aim, cut)) <= 1e-9 * size);
    ASSERT_NEAR(value, own_score(w, score->aim, cut), 1e-9);
}
