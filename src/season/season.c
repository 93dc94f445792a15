/* season: see season.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/season.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const session_kind_names[] = {
    "gym", "skill", "conditioning", "match", "mobility", "other", NULL};

size_t season_add_athlete(Season *s, const char *name, size_t length) {
    size_t before = s->athlete_names.count;
    size_t who = names_add(&s->athlete_names, name, length);
    Athlete *a;
    if (who < before)
        return who;
    s->athletes = mem_grow(s->athletes, &s->athlete_room, s->athlete_count + 1,
                           sizeof *s->athletes);
    a = &s->athletes[s->athlete_count++];
    *a = (Athlete){.mass = NAN,
                   .hr_rest = NAN,
                   .hr_max = NAN,
                   .born = DATE_NONE,
                   .squad = SQUAD_NONE};
    a->name = mem_copy_part(name, length);
    return who;
}

static void free_rows(Season *s) {
    for (size_t i = 0; i < s->event_count; i++)
        free(s->events[i].name);
    for (size_t i = 0; i < s->week_count; i++)
        free(s->week[i].session);
    for (size_t i = 0; i < s->exercise_count; i++) {
        free(s->exercises[i].session);
        free(s->exercises[i].exercise);
    }
    free(s->events);
    for (size_t i = 0; i < s->handed_count; i++)
        handed_row_free(&s->handed[i]);
    free(s->handed);
    free(s->absences);
    for (size_t i = 0; i < s->block_count; i++)
        free(s->blocks[i].name);
    free(s->blocks);
    free(s->week);
    free(s->team);
    free(s->exercises);
}

void season_free(Season *s) {
    if (!s)
        return;
    for (size_t i = 0; i < s->athlete_count; i++) {
        free(s->athletes[i].name);
        free(s->athletes[i].model);
        free(s->athletes[i].tests);
    }
    free_rows(s);
    free(s->athletes);
    free(s->sessions);
    for (int m = 0; m < LOAD_METHODS; m++)
        free(s->score[m]);
    names_free(&s->session_names);
    names_free(&s->test_names);
    free(s->test_kinds);
    names_free(&s->athlete_names);
    names_free(&s->squad_names);
    names_free(&s->plan_names);
    free(s->path);
    free(s->folder);
    free(s->log_path);
    free(s);
}

/* ---- the plan handed out ---- */

void handed_row_free(HandedRow *row) {
    free(row->session);
    free(row->exercise);
    free(row->version);
    free(row->test);
}

/* The first row of an athlete, or of one after them. */
static size_t first_row(const HandedRow *rows, size_t count, size_t athlete) {
    size_t from = 0, to = count;
    while (from < to) {
        size_t middle = from + (to - from) / 2;
        if (rows[middle].athlete < athlete)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

const HandedRow *season_rows_of(const HandedRow *rows, size_t count,
                                size_t athlete, size_t *own) {
    size_t from = first_row(rows, count, athlete);
    *own = first_row(rows, count, athlete + 1) - from;
    return *own > 0 ? rows + from : NULL;
}

const HandedRow *season_handed(const Season *s, size_t athlete, size_t *count) {
    return season_rows_of(s->handed, s->handed_count, athlete, count);
}

/* ---- absences ---- */

const char *const absence_reasons[] = {"illness", "injury", "travel", "other",
                                       NULL};

const Absence *season_absence(const Season *s, size_t athlete, Date date) {
    const Absence *found = NULL;
    for (size_t i = 0; i < s->absence_count; i++) {
        const Absence *a = &s->absences[i];
        if (a->athlete == athlete && date >= a->from &&
            date <= a->to + a->return_days && (!found || a->from > found->from))
            found = a;
    }
    return found;
}

double season_share(const Absence *a, Date date) {
    int day; /* of the return, from 0 */
    if (!a)
        return 1;
    if (date <= a->to)
        return 0;
    day = date - a->to - 1;
    return 3 * day < a->return_days       ? .5
           : 3 * day < 2 * a->return_days ? .75
                                          : 1;
}

bool season_absence_matters(const Absence *a, Date today) {
    int days = a->return_days > 7 ? a->return_days + 7 : 14;
    return a->to + days >= today;
}

/* ---- blocks ---- */

const WeekBlock *season_block(const Season *s, size_t athlete, Date date) {
    const WeekBlock *found = NULL;
    for (size_t i = 0; i < s->block_count; i++) {
        const WeekBlock *b = &s->blocks[i];
        if (date < b->start || date >= block_end(b))
            continue;
        if (b->athlete == athlete)
            return b;
        if (b->athlete == NAMES_NONE)
            found = b;
    }
    return found;
}

double block_factor(const WeekBlock *b, Date date) {
    int weeks;
    if (!b)
        return 1;
    weeks = (date - b->start) / 7; /* whole ones */
    return b->volume / 100 * pow(1 + b->rise / 100, weeks);
}

/* ---- questions ---- */

size_t season_athlete(const Season *s, const char *name) {
    size_t found = NAMES_NONE;
    for (size_t i = 0; i < s->athlete_count; i++)
        if (strcmp(s->athletes[i].name, name) == 0)
            return i;
    for (size_t i = 0; i < s->athlete_count; i++) {
        if (!text_same(s->athletes[i].name, name))
            continue;
        if (found != NAMES_NONE)
            return NAMES_NONE;
        found = i;
    }
    return found;
}

/* [kg] heavier, or lighter, than nearly all athletes. */
bool season_mass_doubtful(const Athlete *a) {
    return a->mass >= 130 || a->mass < (a->minor ? 30 : 40);
}

bool season_minor(const Athlete *a, Date on) {
    Civil birthday;
    if (a->minor || a->born == DATE_NONE)
        return a->minor;
    birthday = date_civil(a->born);
    birthday.year += 18;
    if (birthday.month == 2 && birthday.day == 29)
        birthday = (Civil){birthday.year, 3, 1};
    return on < date_of(birthday);
}

const Event *season_event(const Season *s, size_t athlete, const char *name) {
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *event = &s->events[i];
        if (!event_concerns(event, athlete))
            continue;
        if (name ? text_same(event->name, name) : event->start > s->today)
            return event;
    }
    return NULL;
}

void season_require_loads(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    for (size_t i = 0; i < a->session_count; i++) {
        Place place = {s->log_path, a->sessions[i].line, NULL};
        char date[DATE_TEXT], shown[TEXT_EXCERPT];
        if (isfinite(a->sessions[i].load))
            continue;
        notes_add(notes, LEVEL_ERROR, place,
                  "the load of %s on %s is not recorded, which is not the "
                  "same as 0; expected a number (or --fill for the athlete's "
                  "median for that kind of session, or --athlete for the "
                  "others)",
                  text_excerpt(shown, a->name),
                  date_write(date, a->sessions[i].date));
    }
}

/* ---- an event ---- */

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
