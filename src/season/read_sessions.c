/* read_sessions: reads sessions.csv, one row a session, or a wide table with
 * one column an athlete.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    DATE_C,
    ATHLETE_C,
    TIME_C,
    SESSION_C,
    KIND_C,
    LOAD_C,
    MINUTES_C,
    RPE_C,
    HR_C,
    Z1_C,
    Z2_C,
    Z3_C,
    Z4_C,
    Z5_C,
    SETS_C,
    REPS_C,
    KG_C,
    LB_C
};

const Column read_sessions_columns[] = {
    {"date", true},        {"athlete", false},    {"time", false},
    {"session", false},    {"kind", false},       {"load", false},
    {"minutes", false},    {"rpe", false},        {"hr_mean", false},
    {"minutes_z1", false}, {"minutes_z2", false}, {"minutes_z3", false},
    {"minutes_z4", false}, {"minutes_z5", false}, {"sets", false},
    {"reps", false},       {"kg", false},         {"lb", false},
    {NULL, false}};

static const double kg_per_lb = 0.45359237; /* by definition, 1959 */

/* The least and most that a cell may say, in the columns of numbers. */
static const double limits[][2] = {
    [LOAD_C] = {0, 1e6},  [MINUTES_C] = {0, 1440}, [RPE_C] = {0, 10},
    [HR_C] = {20, 260},   [Z1_C] = {0, 1440},      [Z2_C] = {0, 1440},
    [Z3_C] = {0, 1440},   [Z4_C] = {0, 1440},      [Z5_C] = {0, 1440},
    [SETS_C] = {0, 1000}, [REPS_C] = {0, 10000},   [KG_C] = {0, 2000},
    [LB_C] = {0, 4400}};

/* Rows that step back in time, if they are few: a typed month, most likely. */
typedef struct {
    Date *latest; /* of each athlete */
    size_t known, room;
    size_t forward, back;
    struct {
        Date date, before;
        size_t line;
    } first[10];
} Steps;

/* What one pass over the file carries along. */
typedef struct {
    Season *season;
    Reader *reader;
    size_t last_athlete;        /* most rows follow one of the same athlete */
    int next[LB_C + 2];         /* the first column of numbers, from each on,
                                   that the file has; LB_C + 1: none */
    double number[LB_C + 1];    /* what the row says in them, NAN: blank */
    Session session;            /* the row that is being read, */
    double score[LOAD_METHODS]; /* its load by each method, NAN: cannot tell */
    Steps steps;
} Pass;

/* ---- order of the rows ---- */

static void count_step(Steps *steps, const Session *session) {
    Date *before;
    if (session->athlete >= steps->room)
        steps->latest = mem_grow(steps->latest, &steps->room,
                                 session->athlete + 1, sizeof *steps->latest);
    while (steps->known <= session->athlete)
        steps->latest[steps->known++] = DATE_NONE;
    before = &steps->latest[session->athlete];
    if (*before == DATE_NONE || session->date >= *before) {
        steps->forward++;
        *before = session->date;
        return;
    }
    if (steps->back < 10) {
        steps->first[steps->back].date = session->date;
        steps->first[steps->back].before = *before;
        steps->first[steps->back].line = session->line;
    }
    steps->back++;
}

static void note_order(const Steps *steps, const char *path, Notes *notes) {
    char this_day[DATE_TEXT], before[DATE_TEXT];
    if (steps->back == 0 || steps->back * 20 > steps->forward)
        return;
    for (size_t i = 0; i < steps->back && i < 10; i++) {
        Place place = {path, steps->first[i].line, "date"};
        notes_add(notes, LEVEL_WARNING, place,
                  "%s follows %s, out of date order; is the month right?",
                  date_write(this_day, steps->first[i].date),
                  date_write(before, steps->first[i].before));
    }
}

/* ---- a row ---- */

static void begin_row(Pass *p) {
    p->session = (Session){.minute = -1,
                           .kind = KIND_OTHER,
                           .load = NAN,
                           .minutes = NAN,
                           .rpe = NAN};
    for (int i = 0; i < LOAD_METHODS; i++)
        p->score[i] = NAN;
}

/* Keeps the row with its load by each method. */
static void keep_row(Pass *p) {
    Season *s = p->season;
    size_t at = s->session_count++;
    if (at >= s->session_room)
        s->sessions = mem_grow(s->sessions, &s->session_room, at + 1,
                               sizeof *s->sessions);
    for (int i = 0; i < LOAD_METHODS; i++) {
        if (!isfinite(p->score[i]))
            continue;
        if (at >= s->score_room[i])
            s->score[i] = mem_grow(s->score[i], &s->score_room[i], at + 1,
                                   sizeof *s->score[i]);
        s->score[i][at] = p->score[i];
        p->session.scored |= (unsigned char)(1U << i);
        s->scored[i]++;
    }
    s->sessions[at] = p->session;
}

static bool read_who(Pass *p, size_t *athlete) {
    Reader *r = p->reader;
    if (p->last_athlete != NAMES_NONE &&
        strcmp(reader_raw(r, ATHLETE_C),
               p->season->athletes[p->last_athlete].name) == 0) {
        *athlete = p->last_athlete;
        return true;
    }
    if (!reader_has(r, ATHLETE_C)) {
        *athlete = season_add_athlete(p->season, "athlete", 7);
        return true;
    }
    if (reader_blank(r, ATHLETE_C)) {
        reader_error(r, ATHLETE_C, "blank, expected the athlete's name");
        return false;
    }
    if (!rows_athlete(p->season, r, ATHLETE_C, athlete))
        return false;
    p->last_athlete = *athlete;
    return true;
}

static bool read_name(Pass *p, Session *session) {
    Reader *r = p->reader;
    Names *names = &p->season->session_names;
    const char *text = reader_raw(r, SESSION_C);
    size_t id = names_find(names, text, strlen(text)); /* as most rows */
    if (id == NAMES_NONE) {
        if (text_blank(text))
            text = "training";
        else if (!reader_text(r, SESSION_C, &text))
            return false;
        id = names_add(names, text, strlen(text));
    }
    session->name = (uint32_t)id;
    return true;
}

static void find_numbers(Pass *p) {
    p->next[LB_C + 1] = LB_C + 1;
    for (int i = LB_C; i >= 0; i--) {
        bool there = i >= LOAD_C && reader_has(p->reader, i);
        p->next[i] = there ? i : p->next[i + 1];
        p->number[i] = NAN;
    }
}

/* Reads the columns `from` to `until`. */
static bool read_numbers(Pass *p, int from, int until) {
    bool good = true;
    for (int i = p->next[from]; i <= until; i = p->next[i + 1]) {
        p->number[i] = NAN;
        if (!reader_number(p->reader, i, limits[i][0], limits[i][1],
                           &p->number[i]))
            good = false;
    }
    return good;
}

static bool read_effort(Pass *p, const Athlete *a) {
    bool good = read_numbers(p, LOAD_C, HR_C);
    const double *number = p->number;
    double *score = p->score;
    double hr = number[HR_C];
    HeartProfile heart = {a->hr_rest, a->hr_max, a->female};
    score[LOAD_GIVEN] = number[LOAD_C];
    score[LOAD_SESSION_RPE] =
        load_session_rpe(number[MINUTES_C], number[RPE_C]);
    if (a->sex_given)
        score[LOAD_TRIMP] = load_trimp(number[MINUTES_C], hr, heart);
    if (good && isfinite(hr) && isfinite(a->hr_rest) && isfinite(a->hr_max) &&
        (hr < a->hr_rest || hr > a->hr_max)) {
        reader_error(p->reader, HR_C,
                     "'%g', expected a mean heart rate between the athlete's "
                     "hr_rest %g and hr_max %g",
                     hr, a->hr_rest, a->hr_max);
        good = false;
    }
    return good;
}

static bool read_volume(Pass *p) {
    bool good = read_numbers(p, Z1_C, LB_C);
    const double *number = p->number;
    double kg = number[KG_C];
    if (!isfinite(kg))
        kg = number[LB_C] * kg_per_lb;
    p->score[LOAD_ZONES] = load_zones(&number[Z1_C]);
    p->score[LOAD_VOLUME] = load_volume(number[SETS_C], number[REPS_C], kg);
    return good;
}

static bool read_row(Pass *p) {
    Reader *r = p->reader;
    Session *session = &p->session;
    size_t who = 0;
    int kind = KIND_OTHER;
    static const Athlete nobody = {.hr_rest = NAN, .hr_max = NAN};
    bool known, good;
    begin_row(p);
    good = reader_date(r, DATE_C, &session->date);
    known = read_who(p, &who);
    good = known && good;
    good = reader_time(r, TIME_C, &session->minute) && good;
    good = read_name(p, session) && good;
    good = reader_word(r, KIND_C, session_kind_names, &kind) && good;
    good = read_effort(p, known ? &p->season->athletes[who] : &nobody) && good;
    good = read_volume(p) && good;
    session->athlete = (uint32_t)who;
    session->kind = (unsigned char)kind;
    session->line = (uint32_t)r->row.line;
    session->minutes = p->number[MINUTES_C];
    session->rpe = p->number[RPE_C];
    return good;
}

/* Without names the log is one athlete's; athletes.csv, read before, may say
 * that there are more. */
static bool may_be_unnamed(Pass *p) {
    char reason[80];
    if (reader_has(p->reader, ATHLETE_C))
        return true;
    if (p->season->athlete_count < 2) {
        p->season->unnamed = true;
        return true;
    }
    snprintf(reason, sizeof reason, ", since athletes.csv names %zu athletes",
             p->season->athlete_count);
    reader_refuse_absent(p->reader, ATHLETE_C, reason);
    return false;
}

/* Reads all rows. */
static void read_rows(Pass *p) {
    find_numbers(p);
    while (reader_next(p->reader)) {
        if (!read_row(p))
            continue;
        count_step(&p->steps, &p->session);
        keep_row(p);
    }
}

/* ---- wide tables ---- */

static bool only_date_known(const Reader *r) {
    if (!reader_has(r, DATE_C))
        return false;
    for (int i = DATE_C + 1; read_sessions_columns[i].name; i++)
        if (reader_has(r, i))
            return false;
    return table_width(r->table) > 1;
}

static void read_wide_row(Pass *p, const size_t *who) {
    Reader *r = p->reader;
    Date date = DATE_NONE;
    if (!reader_date(r, DATE_C, &date))
        return;
    for (size_t i = 0; i < table_width(r->table); i++) {
        if (who[i] == NAMES_NONE)
            continue;
        begin_row(p);
        if (!text_blank(r->row.cells[i]) &&
            !reader_number_at(r, i, limits[LOAD_C][0], limits[LOAD_C][1],
                              &p->score[LOAD_GIVEN]))
            continue;
        p->session.date = date;
        p->session.athlete = (uint32_t)who[i];
        p->session.name =
            (uint32_t)names_add(&p->season->session_names, "training", 8);
        p->session.line = (uint32_t)r->row.line;
        count_step(&p->steps, &p->session);
        keep_row(p);
    }
}

static void read_wide(Pass *p) {
    Season *s = p->season;
    Reader *r = p->reader;
    size_t width = table_width(r->table);
    size_t *who = mem_new(width, sizeof *who);
    Place place = {table_name(r->table), 0, NULL};
    size_t athletes = 0;
    s->wide = true;
    for (size_t i = 0; i < width; i++) {
        const char *name = table_heading(r->table, i);
        who[i] = NAMES_NONE;
        if ((int)i == r->at[DATE_C] || !*name || text_same(name, "ignore"))
            continue;
        if (!reader_plain_heading(r, i))
            continue;
        who[i] = season_add_athlete(s, name, strlen(name));
        athletes++;
    }
    notes_add(r->notes, LEVEL_NOTICE, place,
              "no load column is known, so it is read as a wide table with "
              "one column of daily loads for each of %zu athletes (--map "
              "load=HEADING names a load column, --map ignore=HEADING leaves "
              "one out)",
              athletes);
    while (reader_next(r))
        read_wide_row(p, who);
    free(who);
}

/* ---- the file ---- */

static void read_log(Pass *p, const char *path, Notes *notes) {
    Place place = {path, 0, NULL};
    size_t errors = notes->errors;
    if (only_date_known(p->reader))
        read_wide(p);
    else if (reader_judge_columns(p->reader) && may_be_unnamed(p))
        read_rows(p);
    if (p->season->session_count == 0 && notes->errors == errors)
        notes_add(notes, LEVEL_ERROR, place,
                  "has a header but no rows, expected one row a session");
}

void read_sessions(Season *s, const char *path, const SeasonOptions *options,
                   Notes *notes) {
    Reader reader;
    Pass pass = {.season = s, .reader = &reader, .last_athlete = NAMES_NONE};
    if (!reader_open_any(&reader, path, read_sessions_columns, &options->read,
                         notes))
        return;
    read_log(&pass, path, notes);
    note_order(&pass.steps, path, notes);
    reader_close(&reader);
    free(pass.steps.latest);
    s->log_read = true;
}
