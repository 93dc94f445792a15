/* read_plan: reads plan.csv, the plan handed out: one row a session, and behind
 * it one for each of its exercises.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    P_ATHLETE,
    P_DATE,
    P_WEEKDAY,
    P_SESSION,
    P_KIND,
    P_EXERCISE,
    P_SETS,
    P_REPS,
    P_KG,
    P_MINUTES,
    P_RPE,
    P_CUT,
    P_LOAD,
    P_PERCENT,
    P_USUAL_SETS,
    P_USUAL_MINUTES,
    P_USUAL_LOAD,
    P_KEEP,
    P_COST,
    P_ISSUED,
    P_JOINT,
    P_VERSION,
    P_FORECAST,
    P_FORECAST_LOW,
    P_FORECAST_HIGH,
    P_FORECAST_TEST
};

const Column read_plan_columns[] = {{"athlete", false},
                                    {"date", true},
                                    {"weekday", false},
                                    {"session", true},
                                    {"kind", false},
                                    {"exercise", false},
                                    {"sets", false},
                                    {"reps", false},
                                    {"kg", false},
                                    {"minutes", false},
                                    {"rpe", false},
                                    {"cut", false},
                                    {"load", true},
                                    {"percent_1rm", false},
                                    {"usual_sets", false},
                                    {"usual_minutes", false},
                                    {"usual_load", false},
                                    {"keep", false},
                                    {"cost_if_missed", false},
                                    {"issued", true},
                                    {"joint", false},
                                    {"version", false},
                                    {"forecast", false},
                                    {"forecast_low", false},
                                    {"forecast_high", false},
                                    {"forecast_test", false},
                                    {NULL, false}};

static const char *const plan_kinds[] = {"gym",   "skill",    "conditioning",
                                         "match", "mobility", "other",
                                         "event", NULL};
enum { PLAN_EVENT = KINDS };

/* A row that was moved to another date keeps its weekday by mistake. */
static bool weekday_agrees(Reader *r, Date date) {
    static const char *const names[] = {"mon", "tue", "wed", "thu",
                                        "fri", "sat", "sun", NULL};
    int weekday = date_weekday(date);
    char day[DATE_TEXT];
    if (!reader_word(r, P_WEEKDAY, names, &weekday))
        return false;
    if (weekday == date_weekday(date))
        return true;
    reader_error(r, P_WEEKDAY,
                 "'%s' is not the weekday of %s, expected '%s' or "
                 "another date",
                 reader_cell(r, P_WEEKDAY), date_write(day, date),
                 names[date_weekday(date)]);
    return false;
}

static bool read_numbers(Reader *r, HandedRow *row) {
    bool good = reader_number(r, P_SETS, 0, 1000, &row->sets);
    good = reader_number(r, P_REPS, 0, 10000, &row->reps) && good;
    good = reader_number(r, P_KG, 0, 2000, &row->kg) && good;
    good = reader_number(r, P_MINUTES, 0, 1440, &row->minutes) && good;
    good = reader_number(r, P_RPE, 0, 10, &row->rpe) && good;
    good = reader_number(r, P_CUT, -1000, 100, &row->cut) && good;
    good = reader_number(r, P_LOAD, 0, 1e6, &row->load) && good;
    good = reader_number(r, P_PERCENT, 0, 120, &row->percent) && good;
    good = reader_number(r, P_USUAL_SETS, 0, 1000, &row->usual_sets) && good;
    good =
        reader_number(r, P_USUAL_MINUTES, 0, 1440, &row->usual_minutes) && good;
    good = reader_number(r, P_USUAL_LOAD, 0, 1e6, &row->usual_load) && good;
    good = reader_yes(r, P_JOINT, &row->joint) && good;
    return reader_yes(r, P_KEEP, &row->keep) && good;
}

/* The athlete must be known: a plan of another season is none of this one. */
static bool read_who(Season *s, Reader *r, size_t *athlete) {
    const char *name;
    char shown[TEXT_EXCERPT];
    if (reader_blank(r, P_ATHLETE)) {
        *athlete = s->athlete_count == 1 ? 0 : NAMES_NONE;
        if (*athlete == NAMES_NONE)
            reader_error(r, P_ATHLETE, "blank, expected the athlete's name");
        return *athlete != NAMES_NONE;
    }
    if (!reader_text(r, P_ATHLETE, &name))
        return false;
    *athlete = season_athlete(s, name);
    if (*athlete == NAMES_NONE)
        reader_error(r, P_ATHLETE,
                     "%s is not an athlete of this season, expected a plan "
                     "that was handed out here",
                     text_excerpt(shown, name));
    return *athlete != NAMES_NONE;
}

/* The same session of a day, or the same exercise of it, a second time. */
static bool stands_twice(const Season *s, const HandedRow *row, Reader *r) {
    for (size_t i = s->handed_count; i-- > 0;) {
        const HandedRow *other = &s->handed[i];
        bool same =
            other->athlete == row->athlete && other->date == row->date &&
            text_same(other->session, row->session) &&
            !other->exercise == !row->exercise &&
            (!row->exercise || text_same(other->exercise, row->exercise));
        if (!same)
            continue;
        reader_error(r, P_SESSION,
                     "stands in line %zu already, expected each "
                     "session of a day once",
                     other->line);
        return true;
    }
    return false;
}

static bool complete(const Season *s, Reader *r, HandedRow *row) {
    if (row->exercise || isfinite(row->load))
        return true;
    if (s->method == LOAD_SESSION_RPE && row->minutes >= 0 && row->rpe >= 0) {
        row->load = load_session_rpe(row->minutes, row->rpe);
        return true;
    }
    reader_error(r, P_LOAD, "blank, expected the session's load%s",
                 s->method == LOAD_SESSION_RPE ? ", or minutes and rpe" : "");
    return false;
}

static char *word_of(Reader *r, int column) {
    const char *text;
    if (reader_blank(r, column) || !reader_text(r, column, &text))
        return NULL;
    return mem_copy(text);
}

static void keep_row(Season *s, Reader *r, HandedRow row) {
    const char *text;
    if (!reader_text(r, P_SESSION, &text))
        return;
    row.session = mem_copy(text);
    row.exercise = word_of(r, P_EXERCISE);
    row.version = word_of(r, P_VERSION);
    row.test = word_of(r, P_FORECAST_TEST);
    if (!complete(s, r, &row) || stands_twice(s, &row, r)) {
        handed_row_free(&row);
        return;
    }
    s->handed = mem_grow(s->handed, &s->handed_room, s->handed_count + 1,
                         sizeof *s->handed);
    s->handed[s->handed_count++] = row;
}

/* With its range and its test, or not at all. */
static bool read_forecast(Reader *r, HandedRow *row) {
    static const double most = 1e9;
    bool any = false, all = true;
    if (!reader_number(r, P_FORECAST, -most, most, &row->forecast) ||
        !reader_number(r, P_FORECAST_LOW, -most, most, &row->low) ||
        !reader_number(r, P_FORECAST_HIGH, -most, most, &row->high))
        return false;
    for (int column = P_FORECAST; column <= P_FORECAST_TEST; column++) {
        any = any || !reader_blank(r, column);
        all = all && !reader_blank(r, column);
    }
    if (any && !all)
        reader_error(r, P_FORECAST,
                     "not whole, expected forecast, forecast_low, "
                     "forecast_high and forecast_test, or none of them");
    else if (any && !(row->low <= row->forecast && row->forecast <= row->high))
        reader_error(r, P_FORECAST,
                     "'%s' lies outside its range, expected a number from "
                     "forecast_low to forecast_high",
                     reader_cell(r, P_FORECAST));
    else
        return true;
    return false;
}

static void read_row(Season *s, Reader *r) {
    HandedRow row = {.line = r->row.line,
                     .kind = KIND_OTHER,
                     .sets = NAN,
                     .reps = NAN,
                     .kg = NAN,
                     .percent = NAN,
                     .minutes = NAN,
                     .rpe = NAN,
                     .cut = 0,
                     .load = NAN,
                     .usual_sets = NAN,
                     .usual_minutes = NAN,
                     .usual_load = NAN,
                     .forecast = NAN,
                     .low = NAN,
                     .high = NAN};
    bool good = read_who(s, r, &row.athlete);
    good = reader_date(r, P_DATE, &row.date) && good;
    good = reader_date(r, P_ISSUED, &row.issued) && good;
    good = reader_word(r, P_KIND, plan_kinds, &row.kind) && good;
    good = read_numbers(r, &row) && good;
    good = read_forecast(r, &row) && good;
    good = good && weekday_agrees(r, row.date);
    if (good && row.date <= row.issued) {
        char day[DATE_TEXT];
        reader_error(r, P_DATE,
                     "lies before the plan was issued (%s), expected "
                     "a later day",
                     date_write(day, row.issued));
        good = false;
    }
    row.event = row.kind == PLAN_EVENT;
    if (good)
        keep_row(s, r, row);
}

static int by_day(const void *a, const void *b) {
    const HandedRow *x = a, *y = b;
    if (x->athlete != y->athlete)
        return x->athlete < y->athlete ? -1 : 1;
    if (x->date != y->date)
        return x->date < y->date ? -1 : 1;
    return (x->line > y->line) - (x->line < y->line);
}

void read_plan_sort(Season *s) {
    if (s->handed_count > 0)
        qsort(s->handed, s->handed_count, sizeof *s->handed, by_day);
}

void read_plan(Season *s, const char *path, const SeasonOptions *options,
               Notes *notes) {
    rows_read(s, path, read_plan_columns, options, notes, read_row);
    read_plan_sort(s);
}
