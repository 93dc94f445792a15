/* read_events: reads events.csv, one row an event.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

const Column read_events_columns[] = {{"event", true},
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

/* Do sessions EVENT_APART after each other begin on the same day? */
static bool day_is_long_enough(const Event *event) {
    return event->starts != 1 || event->sessions_per_day < 2 ||
           event->start_minute[0] +
                   EVENT_APART * (event->sessions_per_day - 1) <
               24 * 60;
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
    if (!day_is_long_enough(event)) {
        reader_error(r, E_TIME,
                     "%s alone, with %d sessions a day: %d h apart they do not "
                     "all begin before midnight, expected the time of each, "
                     "like 09:00 15:30",
                     text_excerpt(shown, cell), event->sessions_per_day,
                     EVENT_APART / 60);
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
    good = rows_athlete(s, r, E_ATHLETE, &event.athlete) && good;
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

void read_events(Season *s, const char *path, const SeasonOptions *options,
                 Notes *notes) {
    Place place = {path, 0, NULL};
    size_t errors = notes->errors;
    if (!rows_read(s, path, read_events_columns, options, notes,
                   read_event_row))
        return;
    if (s->event_count == 0 && notes->errors == errors)
        notes_add(notes, LEVEL_WARNING, place,
                  "has a header but no rows, expected one row an event");
    if (s->event_count > 0)
        qsort(s->events, s->event_count, sizeof *s->events, by_start);
}
