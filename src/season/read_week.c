/* read_week: reads week.csv, one row a session of the usual week, or of a date.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/calendar_names.h"
#include "base/mem.h"
#include "season/files.h"
#include "season/usual.h"

#include <math.h>

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

const Column read_week_columns[] = {
    {"weekday", true}, {"session", true},  {"athlete", false},
    {"kind", false},   {"minutes", false}, {"least_minutes", false},
    {"rpe", false},    {"load", false},    {"keep", false},
    {"team", false},   {NULL, false}};

static bool read_weekday(Reader *r, WeekRow *row) {
    const char *cell = reader_cell(r, W_DAY);
    char why[DATE_WHY], shown[TEXT_EXCERPT];
    Text wanted = {0};
    bool good;
    row->weekday = -1;
    if (*cell >= '0' && *cell <= '9') {
        good = date_read(cell, r->dates, &row->date, why);
        if (!good)
            text_add(&wanted, "%s", why);
    } else {
        good = calendar_weekday(cell, &row->weekday, &wanted);
        if (!good)
            row->weekday = -1;
    }
    if (!good)
        reader_error(r, W_DAY, "%s, expected %s", text_excerpt(shown, cell),
                     text_of(&wanted));
    text_free(&wanted);
    return good;
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
    good = rows_athlete(s, r, W_ATHLETE, &row.athlete) && good;
    good = reader_word(r, W_KIND, session_kind_names, &row.kind) && good;
    good = read_minutes(r, &row) && good;
    good = reader_number(r, W_RPE, 0, 10, &row.rpe) && good;
    good = reader_number(r, W_LOAD, 0, 1e6, &row.load) && good;
    good = reader_yes(r, W_KEEP, &row.keep) && good;
    good = reader_yes(r, W_TEAM, &row.team) && good;
    row.team_said = *reader_cell(r, W_TEAM) != '\0';
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

void read_week(Season *s, const char *path, const SeasonOptions *options,
               Notes *notes) {
    Place place = {path, 0, NULL};
    size_t errors = notes->errors;
    if (!rows_read(s, path, read_week_columns, options, notes, read_week_row))
        return;
    if (s->week_count == 0 && notes->errors == errors)
        notes_add(notes, LEVEL_WARNING, place,
                  "has a header but no rows, so the usual week is taken from "
                  "the log");
}
