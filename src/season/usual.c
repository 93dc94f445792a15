/* usual: see usual.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/usual.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

double usual_median(const Season *s, size_t athlete, const char *name,
                    int kind) {
    const Athlete *a = &s->athletes[athlete];
    double *values = mem_new(a->session_count, sizeof *values);
    size_t count = 0;
    double median;
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        bool alike =
            name ? text_same(s->session_names.items[session->name], name)
                 : session->kind == kind;
        if (alike && isfinite(session->load))
            values[count++] = session->load;
    }
    median = load_median(values, count);
    free(values);
    return median;
}

static double exercise_volume(const Season *s, const char *session) {
    double sum = NAN;
    for (size_t i = 0; i < s->exercise_count; i++) {
        const Exercise *x = &s->exercises[i];
        double volume = load_volume(x->sets, x->reps, x->kg);
        if (!text_same(x->session, session) || !isfinite(volume))
            continue;
        sum = isfinite(sum) ? sum + volume : volume;
    }
    return sum;
}

static double row_load(const Season *s, size_t athlete, const WeekRow *row) {
    double load = row->load;
    if (row->off)
        return 0;
    if (!isfinite(load) && s->method == LOAD_SESSION_RPE)
        load = load_session_rpe(row->minutes, row->rpe);
    if (!isfinite(load) && s->method == LOAD_VOLUME)
        load = exercise_volume(s, row->session);
    if (!isfinite(load))
        load = usual_median(s, athlete, row->session, 0);
    if (!isfinite(load))
        load = usual_median(s, athlete, NULL, row->kind);
    return load;
}

static bool concerns(const WeekRow *row, size_t athlete) {
    return row->athlete == NAMES_NONE || row->athlete == athlete;
}

static void refuse_row(const Usual *u, const WeekRow *row, Notes *notes) {
    Text path = {0};
    Place place = {NULL, row->line, "load"};
    char shown[TEXT_EXCERPT], who[TEXT_EXCERPT];
    text_add(&path, "%s/week.csv", u->season->folder);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_ERROR, place,
              "%s has no load for %s; expected a load%s, or sessions of that "
              "name or kind in the log",
              text_excerpt(shown, row->session),
              text_excerpt(who, u->season->athletes[u->athlete].name),
              u->season->method == LOAD_SESSION_RPE ? ", minutes and rpe" : "");
    text_free(&path);
}

void usual_build(const Season *s, size_t athlete, const Daily *daily, Usual *u,
                 Notes *notes) {
    size_t from = daily->days > 28 ? daily->days - 28 : 0;
    *u = (Usual){.season = s, .athlete = athlete};
    u->mean_days = daily->days - from;
    daily_weekday_means(daily, from, daily->days, u->mean);
    for (int i = 0; i < 7; i++)
        if (!isfinite(u->mean[i]))
            u->mean[i] = 0;
    u->row_load = mem_new(s->week_count, sizeof *u->row_load);
    for (size_t i = 0; i < s->week_count; i++) {
        if (!concerns(&s->week[i], athlete))
            continue;
        u->row_load[i] = row_load(s, athlete, &s->week[i]);
        if (!isfinite(u->row_load[i]))
            refuse_row(u, &s->week[i], notes);
    }
}

void usual_free(Usual *u) {
    free(u->row_load);
    *u = (Usual){0};
}

static bool on_day(const WeekRow *row, Date date, bool dated) {
    if (dated)
        return row->date == date;
    return row->date == DATE_NONE && row->weekday == date_weekday(date);
}

/* Another row of the day says the same session for this athlete alone. */
static bool outdone(const Usual *u, const WeekRow *row, Date date, bool dated) {
    for (size_t i = 0; i < u->season->week_count; i++) {
        const WeekRow *other = &u->season->week[i];
        if (row->athlete == NAMES_NONE && other->athlete == u->athlete &&
            on_day(other, date, dated) &&
            text_same(row->session, other->session))
            return true;
    }
    return false;
}

static bool day_flag(const Usual *u, Date date, bool dated, bool off) {
    for (size_t i = 0; i < u->season->week_count; i++) {
        const WeekRow *row = &u->season->week[i];
        if (concerns(row, u->athlete) && on_day(row, date, dated) &&
            (!off || row->off))
            return true;
    }
    return false;
}

static size_t day_from_log(const Usual *u, Date date,
                           PlannedSession sessions[USUAL_MOST]) {
    double load = u->mean[date_weekday(date)];
    if (load <= 0)
        return 0;
    sessions[0] = (PlannedSession){.session = "usual training",
                                   .kind = KIND_OTHER,
                                   .minutes = NAN,
                                   .least_minutes = NAN,
                                   .rpe = NAN,
                                   .load = load};
    return 1;
}

static const DayChange *changed(const Usual *u, Date date) {
    for (size_t i = 0; i < u->change_count; i++)
        if (u->changes[i].date == date)
            return &u->changes[i];
    return NULL;
}

static size_t day_as_said(const DayChange *change,
                          PlannedSession sessions[USUAL_MOST]) {
    if (change->load <= 0)
        return 0;
    sessions[0] = (PlannedSession){.session = "as given",
                                   .kind = KIND_OTHER,
                                   .minutes = NAN,
                                   .least_minutes = NAN,
                                   .rpe = NAN,
                                   .load = change->load,
                                   .keep = true};
    return 1;
}

static bool may_be_cut(const Usual *u, int kind) {
    return u->cut_kinds == 0 || (u->cut_kinds & 1u << kind);
}

static bool gym_free(const Usual *u, Date date) {
    return date >= u->gym_free && date < u->gym_again;
}

size_t usual_day(const Usual *u, Date date,
                 PlannedSession sessions[USUAL_MOST]) {
    const Season *s = u->season;
    const DayChange *change = changed(u, date);
    size_t count = 0;
    bool dated;
    if (change)
        return day_as_said(change, sessions);
    if (u->weekdays && !(u->weekdays & 1u << date_weekday(date)))
        return 0;
    if (!s->has_week)
        return day_from_log(u, date, sessions);
    dated = day_flag(u, date, true, false);
    if (day_flag(u, date, dated, true))
        return 0;
    for (size_t i = 0; i < s->week_count && count < USUAL_MOST; i++) {
        const WeekRow *row = &s->week[i];
        if (!concerns(row, u->athlete) || !on_day(row, date, dated) ||
            outdone(u, row, date, dated) ||
            (row->kind == KIND_GYM && gym_free(u, date)))
            continue;
        sessions[count++] =
            (PlannedSession){.session = row->session,
                             .kind = row->kind,
                             .minutes = row->minutes,
                             .least_minutes = row->least_minutes,
                             .team = row->team,
                             .rpe = row->rpe,
                             .load = u->row_load[i],
                             .keep = row->keep || !may_be_cut(u, row->kind)};
    }
    return count;
}

double usual_week_load(const Usual *u) {
    PlannedSession sessions[USUAL_MOST];
    Date monday = date_of((Civil){1900, 1, 1}); /* before any dated row */
    double sum = 0;
    for (int day = 0; day < 7; day++) {
        size_t count = usual_day(u, monday + day, sessions);
        for (size_t i = 0; i < count; i++)
            sum += sessions[i].load;
    }
    return sum;
}
