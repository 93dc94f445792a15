/* others: reads the smaller files of a season: athletes, tests, events, the
 * usual week and the exercises of its sessions.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"
#include "season/usual.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double kg_per_lb = 0.45359237; /* by definition, 1959 */

bool read_athlete(Season *s, Reader *r, int column, size_t *athlete) {
    const char *name;
    size_t before;
    *athlete = NAMES_NONE;
    if (reader_blank(r, column))
        return true;
    if (!reader_text(r, column, &name))
        return false;
    before = s->athlete_count;
    *athlete = season_add_athlete(s, name, strlen(name));
    if (*athlete == before && s->log_read) {
        char shown[TEXT_EXCERPT];
        reader_warning(r, column,
                       "%s has neither sessions nor a row in athletes.csv; is "
                       "the name spelt right?",
                       text_excerpt(shown, s->athletes[before].name));
    }
    return true;
}

/* Reads a file row by row; false, after noting why, if it has no such
 * columns. */
static bool read_rows(Season *s, const char *path, const Column *columns,
                      const SeasonOptions *options, Notes *notes,
                      void (*row)(Season *s, Reader *r)) {
    Reader r;
    if (!reader_open(&r, path, columns, &options->read, notes))
        return false;
    while (reader_next(&r))
        row(s, &r);
    reader_close(&r);
    return true;
}

/* ---- athletes.csv ---- */

enum {
    A_NAME,
    A_SQUAD,
    A_KG,
    A_LB,
    A_SEX,
    A_REST,
    A_MAX,
    A_MINOR,
    A_BORN,
    A_MODEL
};

static const Column athlete_columns[] = {
    {"athlete", true},  {"squad", false}, {"mass_kg", false},
    {"mass_lb", false}, {"sex", false},   {"hr_rest", false},
    {"hr_max", false},  {"minor", false}, {"born", false},
    {"model", false},   {NULL, false}};

static bool read_mass(Reader *r, Athlete *a) {
    double lb = NAN;
    bool good = reader_number(r, A_KG, 20, 250, &a->mass);
    good = reader_number(r, A_LB, 45, 550, &lb) && good;
    if (isfinite(a->mass) && isfinite(lb) &&
        fabs(a->mass / (lb * kg_per_lb) - 1) > .02) {
        reader_error(r, A_LB,
                     "'%g' is %.1f kg, expected the %g of mass_kg, or one of "
                     "the two blank",
                     lb, lb * kg_per_lb, a->mass);
        return false;
    }
    if (!isfinite(a->mass))
        a->mass = lb * kg_per_lb;
    return good;
}

static bool read_heart(Reader *r, Athlete *a) {
    static const char *const sexes[] = {"f", "m", NULL};
    int sex = -1;
    bool good = reader_word(r, A_SEX, sexes, &sex);
    a->sex_given = sex >= 0;
    a->female = sex == 0;
    good = reader_number(r, A_REST, 20, 120, &a->hr_rest) && good;
    good = reader_number(r, A_MAX, 100, 250, &a->hr_max) && good;
    if (good && isfinite(a->hr_rest) && isfinite(a->hr_max) &&
        a->hr_rest >= a->hr_max) {
        reader_error(r, A_MAX, "'%g', expected more than hr_rest '%g'",
                     a->hr_max, a->hr_rest);
        good = false;
    }
    return good;
}

static void read_model(Season *s, Reader *r, Athlete *a) {
    const char *model;
    Text path = {0};
    if (reader_blank(r, A_MODEL) || !reader_text(r, A_MODEL, &model))
        return;
    if (model[0] != '/' && (strchr(model, '/') || strstr(model, ".csv")))
        text_add(&path, "%s/", s->folder); /* else a preset's name */
    text_add(&path, "%s", model);
    free(a->model);
    a->model = mem_copy(text_of(&path));
    text_free(&path);
}

static void read_squad(Season *s, Reader *r, Athlete *a) {
    const char *squad;
    if (!reader_blank(r, A_SQUAD) && reader_text(r, A_SQUAD, &squad))
        a->squad = (uint32_t)names_add(&s->squad_names, squad, strlen(squad));
}

static void read_athlete_row(Season *s, Reader *r) {
    const char *name;
    size_t who, before = s->athlete_count;
    if (!reader_text(r, A_NAME, &name))
        return;
    who = season_add_athlete(s, name, strlen(name));
    if (who < before) {
        char shown[TEXT_EXCERPT];
        reader_error(r, A_NAME,
                     "%s stands here twice, expected one row an athlete",
                     text_excerpt(shown, s->athletes[who].name));
        return;
    }
    s->athletes[who].listed = true;
    read_squad(s, r, &s->athletes[who]);
    read_mass(r, &s->athletes[who]);
    read_heart(r, &s->athletes[who]);
    reader_yes(r, A_MINOR, &s->athletes[who].minor);
    if (!reader_blank(r, A_BORN))
        reader_date(r, A_BORN, &s->athletes[who].born);
    read_model(s, r, &s->athletes[who]);
}

void athletes_read(Season *s, const char *path, const SeasonOptions *options,
                   Notes *notes) {
    read_rows(s, path, athlete_columns, options, notes, read_athlete_row);
}

/* ---- tests.csv ---- */

enum { T_DATE, T_ATHLETE, T_TEST, T_VALUE, T_ERROR, T_BETTER, T_WHEN };

static const Column test_columns[] = {
    {"date", true},   {"athlete", false}, {"test", true},  {"value", true},
    {"error", false}, {"better", false},  {"when", false}, {NULL, false}};

static void read_test_row(Season *s, Reader *r) {
    static const char *const betters[] = {"higher", "lower", NULL};
    static const char *const whens[] = {"before", "after", NULL};
    Test test = {.date = DATE_NONE, .value = NAN, .error = NAN};
    int better = 0, when = 0;
    size_t who;
    const char *name;
    Athlete *a;
    bool good = reader_date(r, T_DATE, &test.date);
    good = read_athlete(s, r, T_ATHLETE, &who) && good;
    good = reader_number(r, T_VALUE, -1e9, 1e9, &test.value) && good;
    good = reader_number(r, T_ERROR, 1e-9, 1e9, &test.error) && good;
    good = reader_word(r, T_BETTER, betters, &better) && good;
    good = reader_word(r, T_WHEN, whens, &when) && good;
    if (good && !isfinite(test.value)) {
        reader_error(r, T_VALUE, "blank, expected the result of the test");
        good = false;
    }
    if (!good || !reader_text(r, T_TEST, &name))
        return;
    if (who == NAMES_NONE && s->athlete_count == 1)
        who = 0; /* the one athlete of the log */
    if (who == NAMES_NONE) {
        reader_error(r, T_ATHLETE,
                     "blank, expected the athlete's name, since the season "
                     "has %zu athletes",
                     s->athlete_count);
        return;
    }
    test.test = (uint32_t)names_add(&s->test_names, name, strlen(name));
    test.lower_better = better == 1;
    test.after = when == 1;
    a = &s->athletes[who];
    a->tests =
        mem_grow(a->tests, &a->test_room, a->test_count + 1, sizeof *a->tests);
    a->tests[a->test_count++] = test;
}

static int by_date(const void *a, const void *b) {
    const Test *x = a, *y = b;
    if (x->date != y->date)
        return x->date < y->date ? -1 : 1;
    if (x->after != y->after)
        return x->after ? 1 : -1;
    if (x->test != y->test)
        return x->test < y->test ? -1 : 1;
    return (x->value > y->value) - (x->value < y->value);
}

void tests_read(Season *s, const char *path, const SeasonOptions *options,
                Notes *notes) {
    if (!read_rows(s, path, test_columns, options, notes, read_test_row))
        return;
    for (size_t i = 0; i < s->athlete_count; i++)
        if (s->athletes[i].test_count > 0)
            qsort(s->athletes[i].tests, s->athletes[i].test_count, sizeof(Test),
                  by_date);
}

/* ---- events.csv ---- */

enum {
    E_EVENT,
    E_START,
    E_DAYS,
    E_WEIGHT,
    E_ATHLETE,
    E_SESSIONS,
    E_LOAD,
    E_TIME,
    E_MINUTES
};

static const Column event_columns[] = {{"event", true},
                                       {"start", true},
                                       {"days", false},
                                       {"weight", false},
                                       {"athlete", false},
                                       {"sessions_per_day", false},
                                       {"load_per_day", false},
                                       {"start_time", false},
                                       {"session_minutes", false},
                                       {NULL, false}};

static bool same_event(const Season *s, const Event *event, Reader *r) {
    for (size_t i = 0; i < s->event_count; i++) {
        char shown[TEXT_EXCERPT];
        if (!text_same(s->events[i].name, event->name) ||
            s->events[i].athlete != event->athlete)
            continue;
        reader_error(r, E_EVENT,
                     "%s stands here twice (also on line %zu), expected a "
                     "name of its own for each event",
                     text_excerpt(shown, event->name), s->events[i].line);
        return true;
    }
    return false;
}

/* Clock times separated by blanks, in order of the day. */
static bool split_times(const char *cell, Event *event) {
    for (cell += strspn(cell, " "); *cell; cell += strspn(cell, " ")) {
        size_t length = strcspn(cell, " ");
        char *word = mem_copy_part(cell, length);
        int minute;
        bool good = event->starts < EVENT_SESSIONS && time_read(word, &minute);
        free(word);
        if (!good || (event->starts > 0 &&
                      minute <= event->start_minute[event->starts - 1]))
            return false;
        event->start_minute[event->starts++] = minute;
        cell += length;
    }
    return true;
}

/* One time is that of the first session; several say how many there are. */
static bool read_times(Reader *r, Event *event) {
    char shown[TEXT_EXCERPT];
    const char *cell = reader_cell(r, E_TIME);
    if (!split_times(cell, event)) {
        reader_error(r, E_TIME,
                     "%s, expected clock times as HH:MM, up to %d, in order of "
                     "the day and with blanks between them, like 09:00 15:30",
                     text_excerpt(shown, cell), EVENT_SESSIONS);
        return false;
    }
    if (event->starts > 0)
        event->minute = event->start_minute[0];
    if (event->starts > 1 && event->sessions_per_day > 0 &&
        event->starts != event->sessions_per_day) {
        reader_error(r, E_TIME,
                     "%s names %d sessions a day, expected %d as in "
                     "sessions_per_day, or the first one's time only",
                     text_excerpt(shown, cell), event->starts,
                     event->sessions_per_day);
        return false;
    }
    if (event->starts > 1)
        event->sessions_per_day = event->starts;
    return true;
}

static void read_event_row(Season *s, Reader *r) {
    Event event = {.start = DATE_NONE,
                   .days = 1,
                   .weight = 1,
                   .load_per_day = NAN,
                   .minute = -1,
                   .line = r->row.line};
    const char *name;
    bool good = reader_date(r, E_START, &event.start);
    good = reader_whole(r, E_DAYS, 1, 60, &event.days) && good;
    good = reader_number(r, E_WEIGHT, 1e-6, 1e6, &event.weight) && good;
    good = read_athlete(s, r, E_ATHLETE, &event.athlete) && good;
    good = reader_whole(r, E_SESSIONS, 1, 10, &event.sessions_per_day) && good;
    good = reader_number(r, E_LOAD, 0, 1e6, &event.load_per_day) && good;
    good = reader_whole(r, E_MINUTES, 1, 600, &event.session_minutes) && good;
    good = good && read_times(r, &event);
    if (!good || !reader_text(r, E_EVENT, &name))
        return;
    event.name = mem_copy(name);
    if (same_event(s, &event, r)) {
        free(event.name);
        return;
    }
    s->events = mem_grow(s->events, &s->event_room, s->event_count + 1,
                         sizeof *s->events);
    s->events[s->event_count++] = event;
}

static int by_start(const void *a, const void *b) {
    const Event *x = a, *y = b;
    if (x->start != y->start)
        return x->start < y->start ? -1 : 1;
    return strcmp(x->name, y->name);
}

void events_read(Season *s, const char *path, const SeasonOptions *options,
                 Notes *notes) {
    Place place = {path, 0, NULL};
    size_t errors = notes->errors;
    if (!read_rows(s, path, event_columns, options, notes, read_event_row))
        return;
    if (s->event_count == 0 && notes->errors == errors)
        notes_add(notes, LEVEL_WARNING, place,
                  "has a header but no rows, expected one row an event");
    if (s->event_count > 0)
        qsort(s->events, s->event_count, sizeof *s->events, by_start);
}

int event_minutes(const Event *event, int minute[EVENT_SESSIONS]) {
    int count = event->sessions_per_day > 1 ? event->sessions_per_day : 1;
    int apart = EVENT_APART, first = event->minute;
    minute[0] = first;
    if (first < 0)
        return 1;
    if (event->starts > 1) {
        memcpy(minute, event->start_minute,
               (size_t)event->starts * sizeof *minute);
        return event->starts;
    }
    if (first + apart * (count - 1) > 24 * 60 - 1)
        apart = (24 * 60 - 1 - first) / (count - 1);
    for (int i = 1; i < count; i++)
        minute[i] = first + i * apart;
    return apart > 0 ? count : 1;
}

bool event_minutes_taken(const Event *event) {
    return event->minute >= 0 && event->starts < 2 &&
           event->sessions_per_day > 1;
}

int event_session_minutes(const Event *event) {
    return event->session_minutes ? event->session_minutes : EVENT_MINUTES;
}

bool event_concerns(const Event *event, size_t athlete) {
    return event->athlete == NAMES_NONE || event->athlete == athlete;
}

/* ---- week.csv ---- */

enum {
    W_DAY,
    W_SESSION,
    W_ATHLETE,
    W_KIND,
    W_MINUTES,
    W_LEAST,
    W_RPE,
    W_LOAD,
    W_KEEP,
    W_TEAM
};

static const Column week_columns[] = {
    {"weekday", true}, {"session", true},  {"athlete", false},
    {"kind", false},   {"minutes", false}, {"least_minutes", false},
    {"rpe", false},    {"load", false},    {"keep", false},
    {"team", false},   {NULL, false}};

static bool read_weekday(Reader *r, WeekRow *row) {
    const char *cell = reader_cell(r, W_DAY);
    char why[DATE_WHY], shown[TEXT_EXCERPT];
    for (int i = 0; i < 7; i++)
        if (text_same(cell, date_weekday_name(i))) {
            row->weekday = i;
            return true;
        }
    row->weekday = -1;
    if (*cell >= '0' && *cell <= '9') {
        if (date_read(cell, r->dates, &row->date, why))
            return true;
        reader_error(r, W_DAY, "%s, expected %s", text_excerpt(shown, cell),
                     why);
        return false;
    }
    reader_error(r, W_DAY,
                 "%s, expected mon, tue, wed, thu, fri, sat, sun or a date as "
                 "YYYY-MM-DD",
                 text_excerpt(shown, cell));
    return false;
}

/* As many rows for one day already as a day can hold? */
static bool crowded(const Season *s, const WeekRow *row) {
    size_t alike = 0;
    for (size_t i = 0; i < s->week_count; i++)
        alike += s->week[i].weekday == row->weekday &&
                 s->week[i].date == row->date &&
                 (s->week[i].athlete == row->athlete ||
                  s->week[i].athlete == NAMES_NONE);
    return alike >= USUAL_MOST;
}

static bool read_minutes(Reader *r, WeekRow *row) {
    bool good = reader_number(r, W_MINUTES, 0, 1440, &row->minutes);
    good = reader_number(r, W_LEAST, 0, 1440, &row->least_minutes) && good;
    if (good && row->least_minutes > row->minutes) {
        reader_error(r, W_LEAST,
                     "'%g', expected no more than the %g of minutes",
                     row->least_minutes, row->minutes);
        return false;
    }
    return good;
}

static void read_week_row(Season *s, Reader *r) {
    WeekRow row = {.date = DATE_NONE,
                   .kind = KIND_OTHER,
                   .minutes = NAN,
                   .least_minutes = NAN,
                   .rpe = NAN,
                   .load = NAN,
                   .line = r->row.line};
    const char *session;
    bool good = read_weekday(r, &row);
    good = read_athlete(s, r, W_ATHLETE, &row.athlete) && good;
    good = reader_word(r, W_KIND, session_kind_names, &row.kind) && good;
    good = read_minutes(r, &row) && good;
    good = reader_number(r, W_RPE, 0, 10, &row.rpe) && good;
    good = reader_number(r, W_LOAD, 0, 1e6, &row.load) && good;
    good = reader_yes(r, W_KEEP, &row.keep) && good;
    good = reader_yes(r, W_TEAM, &row.team) && good;
    if (!good || !reader_text(r, W_SESSION, &session))
        return;
    if (crowded(s, &row)) {
        reader_error(r, W_DAY,
                     "more than %d sessions on this day, expected fewer",
                     USUAL_MOST);
        return;
    }
    row.off = text_same(session, "off");
    row.session = mem_copy(session);
    s->week =
        mem_grow(s->week, &s->week_room, s->week_count + 1, sizeof *s->week);
    s->week[s->week_count++] = row;
}

void week_read(Season *s, const char *path, const SeasonOptions *options,
               Notes *notes) {
    Place place = {path, 0, NULL};
    size_t errors = notes->errors;
    if (!read_rows(s, path, week_columns, options, notes, read_week_row))
        return;
    s->has_week = s->week_count > 0;
    if (!s->has_week && notes->errors == errors)
        notes_add(notes, LEVEL_WARNING, place,
                  "has a header but no rows, so the usual week is taken from "
                  "the log");
}

/* ---- exercises.csv ---- */

enum { X_SESSION, X_EXERCISE, X_SETS, X_REPS, X_KG, X_LB, X_PERCENT, X_KEEP };

static const Column exercise_columns[] = {
    {"session", true},      {"exercise", true}, {"sets", true},
    {"reps", true},         {"kg", false},      {"lb", false},
    {"percent_1rm", false}, {"keep", false},    {NULL, false}};

static bool read_counts(Reader *r, Exercise *x) {
    int sets = 0;
    bool good = reader_whole(r, X_SETS, 1, 100, &sets);
    good = reader_number(r, X_REPS, 1, 10000, &x->reps) && good;
    x->sets = sets;
    for (int i = X_SETS; i <= X_REPS && good; i++)
        if (reader_blank(r, i)) {
            reader_error(r, i, "blank, expected a number");
            good = false;
        }
    return good;
}

static void read_exercise_row(Season *s, Reader *r) {
    Exercise x = {.kg = NAN, .percent = NAN, .line = r->row.line};
    double lb = NAN;
    const char *text;
    bool good = read_counts(r, &x);
    good = reader_number(r, X_KG, 0, 2000, &x.kg) && good;
    good = reader_number(r, X_LB, 0, 4400, &lb) && good;
    good = reader_number(r, X_PERCENT, 1, 120, &x.percent) && good;
    good = reader_yes(r, X_KEEP, &x.keep) && good;
    if (!isfinite(x.kg))
        x.kg = lb * kg_per_lb;
    if (!good || !reader_text(r, X_SESSION, &text))
        return;
    x.session = mem_copy(text);
    if (!reader_text(r, X_EXERCISE, &text)) {
        free(x.session);
        return;
    }
    x.exercise = mem_copy(text);
    s->exercises = mem_grow(s->exercises, &s->exercise_room,
                            s->exercise_count + 1, sizeof *s->exercises);
    s->exercises[s->exercise_count++] = x;
}

void exercises_read(Season *s, const char *path, const SeasonOptions *options,
                    Notes *notes) {
    read_rows(s, path, exercise_columns, options, notes, read_exercise_row);
}
