/* usual: see usual.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/usual.h"

#include "base/mem.h"
#include "season/together.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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
    season_file(u->season, "week", &path);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_ERROR, place,
              "%s has no load for %s; expected a load%s, or sessions of that "
              "name or kind in the log",
              text_excerpt(shown, row->session),
              text_excerpt(who, u->season->athletes[u->athlete].name),
              u->season->method == LOAD_SESSION_RPE ? ", minutes and rpe" : "");
    text_free(&path);
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

/* What the rows of a day say. */
typedef struct {
    bool any, off, own_off;
} DayRows;

static DayRows rows_of(const Usual *u, Date date, bool dated) {
    DayRows day = {false, false, false};
    for (size_t i = 0; i < u->season->week_count; i++) {
        const WeekRow *row = &u->season->week[i];
        if (!concerns(row, u->athlete) || !on_day(row, date, dated))
            continue;
        day.any = true;
        day.off = day.off || row->off;
        day.own_off = day.own_off || (row->off && row->athlete == u->athlete);
    }
    return day;
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

/* Mobility costs little and stays, unless it is named. */
static bool may_be_cut(const Usual *u, int kind) {
    return u->cut_kinds ? u->cut_kinds & 1u << kind : kind != KIND_MOBILITY;
}

bool usual_gym_free(const Usual *u, int kind, Date date) {
    return kind == KIND_GYM && date >= u->gym_free && date < u->gym_again;
}

static void change_volume(PlannedSession *session, double factor) {
    session->minutes *= factor;
    session->load *= factor;
    session->more = (1 + session->more) * factor - 1;
}

/* A block makes a session longer or shorter, but no match and none to keep, and
 * none shorter than it may be. */
static void scale(PlannedSession *session, bool keep, double factor) {
    if (keep || session->kind == KIND_MATCH)
        return;
    if (factor < 1 && session->least_minutes > 0)
        factor =
            fmin(1, fmax(factor, session->least_minutes / session->minutes));
    change_volume(session, factor);
}

static size_t day_from_log(const Usual *u, Date date, double factor,
                           PlannedSession sessions[USUAL_MOST]) {
    size_t count = 0;
    for (size_t i = 0; i < u->draft.count && count < USUAL_MOST; i++) {
        const DraftRow *row = &u->draft.rows[i];
        const char *name = u->season->session_names.items[row->name];
        if (row->weekday != date_weekday(date) ||
            usual_gym_free(u, row->kind, date))
            continue;
        sessions[count++] = (PlannedSession){
            /* sessions without a name are all called that */
            .session = strcmp(name, "training") == 0 ? "usual training" : name,
            .kind = row->kind,
            .minutes = row->minutes,
            .least_minutes = NAN,
            .rpe = row->rpe,
            .load = row->load,
            .team = row->together,
            .told = row->together,
            .keep = !may_be_cut(u, row->kind)};
        scale(&sessions[count - 1], false, factor);
    }
    return count;
}

static size_t day_as_written(const Usual *u, Date date, bool dated,
                             double factor,
                             PlannedSession sessions[USUAL_MOST]) {
    const Season *s = u->season;
    DayRows day = rows_of(u, date, dated);
    size_t count = 0;
    for (size_t i = 0; i < s->week_count && count < USUAL_MOST; i++) {
        const WeekRow *row = &s->week[i];
        bool cleared =
            day.own_off || row->off || (day.off && row->athlete == NAMES_NONE);
        if (!concerns(row, u->athlete) || !on_day(row, date, dated) ||
            cleared || outdone(u, row, date, dated) ||
            usual_gym_free(u, row->kind, date))
            continue;
        sessions[count++] =
            (PlannedSession){.session = row->session,
                             .kind = row->kind,
                             .minutes = row->minutes > 0 ? row->minutes : NAN,
                             .least_minutes = row->least_minutes,
                             .team = row->team || u->row_told[i],
                             .told = u->row_told[i],
                             .rpe = row->rpe,
                             .load = u->row_load[i],
                             .keep = row->keep || !may_be_cut(u, row->kind)};
        scale(&sessions[count - 1], row->keep, factor);
    }
    return count;
}

static size_t day_of_week(const Usual *u, Date date,
                          PlannedSession sessions[USUAL_MOST]) {
    double factor;
    if (rows_of(u, date, true).any) /* said of that day as it will be */
        return day_as_written(u, date, true, 1, sessions);
    factor = block_factor(season_block(u->season, u->athlete, date), date);
    if (u->written || rows_of(u, date, false).off)
        return day_as_written(u, date, false, factor, sessions);
    return day_from_log(u, date, factor, sessions);
}

/* What is left of a day in a graded return: no match before it ends. */
static size_t grade(PlannedSession sessions[USUAL_MOST], size_t count,
                    double share) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        if (sessions[i].kind == KIND_MATCH)
            continue;
        sessions[kept] = sessions[i];
        change_volume(&sessions[kept++], share);
    }
    return kept;
}

/* Does the plan handed out tell of a day? From its first day to its last. */
static bool handed_tells(const Usual *u, Date date) {
    size_t count;
    const HandedRow *rows = season_handed(u->season, u->athlete, &count);
    if ((u->handed_until != DATE_NONE && date >= u->handed_until) ||
        (date >= u->other_from && date < u->other_until))
        return false;
    return u->handed && count > 0 && date > rows[0].issued &&
           date <= rows[count - 1].date;
}

/* The plan handed out has no session over the days of the absence. */
static bool known_then(const Usual *u, const Absence *absence) {
    size_t rows;
    const HandedRow *row = season_handed(u->season, u->athlete, &rows);
    for (size_t i = 0; i < rows; i++)
        if (!row[i].event && row[i].date >= absence->from &&
            row[i].date <= absence->to)
            return false;
    return true;
}

static size_t day_as_handed(const Usual *u, Date date,
                            PlannedSession sessions[USUAL_MOST]) {
    size_t rows, count = 0;
    const HandedRow *row = season_handed(u->season, u->athlete, &rows);
    for (size_t i = 0; i < rows && count < USUAL_MOST; i++)
        if (row[i].date == date && !row[i].exercise && !row[i].event)
            sessions[count++] = (PlannedSession){.session = row[i].session,
                                                 .kind = row[i].kind,
                                                 .minutes = row[i].minutes,
                                                 .rpe = row[i].rpe,
                                                 .least_minutes = NAN,
                                                 .load = row[i].load,
                                                 .keep = row[i].keep};
    return count;
}

/* What a taper before an event on the way, or the day after one, leaves. */
static size_t leave_out(const Usual *u, Date date,
                        PlannedSession sessions[USUAL_MOST], size_t count) {
    size_t kept = 0;
    double cut = date >= u->cut_from && date < u->cut_from + (Date)u->cut_days
                     ? u->cut[date - u->cut_from]
                     : 0;
    for (size_t i = 0; i < count; i++) {
        if (cut >= 1 && !sessions[i].keep)
            continue;
        sessions[kept] = sessions[i];
        if (!sessions[kept].keep)
            change_volume(&sessions[kept], 1 - cut);
        kept++;
    }
    return kept;
}

size_t usual_day(const Usual *u, Date date,
                 PlannedSession sessions[USUAL_MOST]) {
    const DayChange *change = changed(u, date);
    const Absence *absence = season_absence(u->season, u->athlete, date);
    bool handed = handed_tells(u, date);
    size_t count;
    if (change)
        return day_as_said(change, sessions);
    if (handed && absence && (u->as_issued || known_then(u, absence)))
        absence = NULL;
    if (season_share(absence, date) <= 0)
        return 0;
    if (u->weekdays && !(u->weekdays & 1u << date_weekday(date)))
        return 0;
    if (handed)
        count = day_as_handed(u, date, sessions);
    else
        count = leave_out(u, date, sessions, day_of_week(u, date, sessions));
    return absence ? grade(sessions, count, season_share(absence, date))
                   : count;
}

/* [d] so long without a row is hardly a log written late. Common practice, no
 * source. */
enum { AWAY = 28 };

/* Others logged days of which the athlete's log says nothing. */
static void note_early_end(const Usual *u, const Daily *d, Notes *notes) {
    const Season *s = u->season;
    Place place = {s->log_path, 0, "athlete"};
    if (d->days == 0)
        return;
    Date last = d->first + (Date)d->days - 1;
    PlannedSession sessions[USUAL_MOST];
    char who[TEXT_EXCERPT], day[DATE_TEXT];
    size_t missing = 0;
    for (Date date = last + 1; date <= s->last; date++)
        missing += usual_day(u, date, sessions) > 0;
    if (missing > 0) {
        notes_add(notes, LEVEL_WARNING, place,
                  "the log of %s ends on %s, %d day%s before the others'; "
                  "until today they are taken to train as in their usual week "
                  "(%s)",
                  text_excerpt(who, s->athletes[u->athlete].name),
                  date_write(day, last), s->last - last,
                  s->last - last == 1 ? "" : "s",
                  s->last - last > AWAY
                      ? "if they are away, say so in absences.csv; who has "
                        "left need not stand in these files"
                      : "a row with a load of 0 says rest");
        notes_about(notes, s->athletes[u->athlete].name, NULL);
    }
}

void usual_build(const Season *s, size_t athlete, const Daily *daily, Usual *u,
                 Notes *notes) {
    *u = (Usual){.season = s,
                 .athlete = athlete,
                 .written = together_written(s, athlete),
                 .handed_until = DATE_NONE};
    draft_build(s, athlete, daily, &u->draft);
    if (!u->written)
        draft_share(s, athlete, &u->draft);
    u->row_load = mem_new(s->week_count, sizeof *u->row_load);
    u->row_told = mem_new(s->week_count, sizeof *u->row_told);
    for (size_t i = 0; i < s->week_count; i++) {
        if (!concerns(&s->week[i], athlete))
            continue;
        u->row_load[i] = row_load(s, athlete, &s->week[i]);
        u->row_told[i] = s->week[i].date == DATE_NONE && !s->week[i].off &&
                         !s->week[i].team_said &&
                         together_session(s, athlete, s->week[i].weekday,
                                          s->week[i].session);
        if (!isfinite(u->row_load[i]))
            refuse_row(u, &s->week[i], notes);
    }
    note_early_end(u, daily, notes);
}

void usual_free(Usual *u) {
    draft_free(&u->draft);
    free(u->row_load);
    free(u->row_told);
    free(u->cut);
    *u = (Usual){0};
}

bool usual_has_kinds(const Usual *u) {
    bool has = u->written;
    for (size_t i = 0; i < u->draft.count; i++)
        has = has || u->draft.rows[i].kind != KIND_OTHER;
    return has;
}

bool usual_has_minutes(const Usual *u) {
    bool has = u->written;
    for (size_t i = 0; i < u->draft.count; i++)
        has = has || isfinite(u->draft.rows[i].minutes);
    return has;
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
