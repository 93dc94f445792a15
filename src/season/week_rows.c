/* week_rows: says which rows of week.csv do nothing, or more than they seem to.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/files.h"

#include <math.h>

static bool same_number(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

static bool same_day(const WeekRow *a, const WeekRow *b) {
    return a->date == b->date && a->weekday == b->weekday &&
           a->athlete == b->athlete;
}

static bool same_row(const WeekRow *a, const WeekRow *b) {
    return same_day(a, b) && text_same(a->session, b->session) &&
           a->kind == b->kind && same_number(a->minutes, b->minutes) &&
           same_number(a->rpe, b->rpe) && same_number(a->load, b->load);
}

static void warn_of_same_day(const Season *s, const WeekRow *row, Place place,
                             Notes *notes) {
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->week_count; i++) {
        const WeekRow *other = &s->week[i];
        if (other < row && same_row(other, row)) {
            notes_add(notes, LEVEL_WARNING, place,
                      "%s is the same as on line %zu, and %s",
                      text_excerpt(shown, row->session), other->line,
                      row->off ? "once would do"
                               : "both count; expected once if it is once");
            return;
        }
        if (other->off && !row->off && same_day(other, row)) {
            notes_add(notes, LEVEL_WARNING, place,
                      "%s does not count, since line %zu says 'off' of the "
                      "same day; expected one of the two",
                      text_excerpt(shown, row->session), other->line);
            return;
        }
    }
}

/* The day on which the log of the first of those whom a row concerns ends. */
static Date log_until(const Season *s, const WeekRow *row) {
    Date last = DATE_NONE;
    for (size_t i = 0; i < s->athlete_count; i++) {
        const Athlete *a = &s->athletes[i];
        Date end;
        if (a->session_count == 0 ||
            (row->athlete != NAMES_NONE && row->athlete != i))
            continue;
        end = a->sessions[a->session_count - 1].date;
        if (last == DATE_NONE || end < last)
            last = end;
    }
    return last;
}

static bool warn_of_past(const Season *s, const WeekRow *row, Place place,
                         Notes *notes) {
    Date end = log_until(s, row);
    char day[DATE_TEXT], last[DATE_TEXT];
    if (end == DATE_NONE || row->date > end)
        return false;
    notes_add(notes, LEVEL_WARNING, place,
              "'%s' is not after the log, which ends on %s, so this row does "
              "nothing; expected a day to come",
              date_write(day, row->date), date_write(last, end));
    return true;
}

static void warn_of_events(const Season *s, const WeekRow *row, Place place,
                           Notes *notes) {
    const Event *last = NULL;
    char day[DATE_TEXT], shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        bool everybody = e->athlete == NAMES_NONE || e->athlete == row->athlete;
        if (everybody && row->date >= e->start &&
            row->date < e->start + e->days) {
            notes_add(notes, LEVEL_WARNING, place,
                      "'%s' is a day of the event %s, whose own load counts "
                      "then, so this row does nothing",
                      date_write(day, row->date), text_excerpt(shown, e->name));
            notes_about(notes, e->name, NULL);
            return;
        }
        if ((everybody || row->athlete == NAMES_NONE) &&
            (!last || e->start + e->days > last->start + last->days))
            last = e;
    }
    if (last && row->date >= last->start + last->days) {
        notes_add(notes, LEVEL_WARNING, place,
                  "'%s' is after the last event, %s, so no plan comes to it",
                  date_write(day, row->date), text_excerpt(shown, last->name));
        notes_about(notes, last->name, NULL);
    }
}

void week_rows_judge(const Season *s, Notes *notes) {
    Text path = {0};
    if (s->folder)
        season_file(s, "week", &path);
    for (size_t i = 0; i < s->week_count; i++) {
        const WeekRow *row = &s->week[i];
        Place place = {text_of(&path), row->line, "weekday"};
        warn_of_same_day(s, row, place, notes);
        if (row->date != DATE_NONE && !warn_of_past(s, row, place, notes))
            warn_of_events(s, row, place, notes);
    }
    text_free(&path);
}
