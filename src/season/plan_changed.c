/* plan_changed: see plan_changed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/plan_changed.h"

#include <math.h>
#include <stdlib.h>

/* [d] so long after its day in the plan an event to come is the one postponed,
 * beyond it another year's. */
enum { POSTPONED_MOST = 90 };

/* ---- events ---- */

/* The event of that name for the athlete, as near to a day as any. */
static const Event *event_near(const Season *s, size_t athlete,
                               const char *name, Date date) {
    const Event *near = NULL;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (event_concerns(e, athlete) && text_same(e->name, name) &&
            (!near || abs(e->start - date) < abs(near->start - date)))
            near = e;
    }
    return near;
}

static void warn_event(const Season *s, const HandedRow *row, const Event *now,
                       bool ahead, Notes *notes) {
    Text path = {0};
    Place place = {NULL, 0, NULL};
    char shown[TEXT_EXCERPT], then[DATE_TEXT], day[DATE_TEXT];
    season_file(s, "plan", &path);
    place.file = text_of(&path);
    text_excerpt(shown, row->session);
    date_write(then, row->date);
    if (now)
        notes_add(notes, LEVEL_WARNING, place,
                  "was handed out for %s on %s; events.csv now has it on %s%s",
                  shown, then, date_write(day, now->start),
                  ahead ? ": hand out anew (plan --hand-out --replace)" : "");
    else
        notes_add(notes, LEVEL_WARNING, place,
                  "was handed out for %s on %s; events.csv now has no event of "
                  "that name%s",
                  shown, then,
                  ahead ? ": hand out anew (plan --hand-out --replace), or "
                          "give it its name back"
                        : "");
    text_free(&path);
}

bool plan_changed_event(const Season *s, size_t athlete, bool past,
                        Notes *notes) {
    size_t count;
    const HandedRow *rows = season_handed(s, athlete, &count), *last = NULL;
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        const HandedRow *row = &rows[i];
        const Event *now;
        bool first, ahead;
        if (!row->event)
            continue;
        first = !last || !text_same(last->session, row->session);
        last = row;
        now = event_near(s, athlete, row->session, row->date);
        ahead =
            row->date > s->today || (now && now->start > s->today &&
                                     now->start - row->date <= POSTPONED_MOST);
        if (!first || (now && now->start == row->date) || !(ahead || past))
            continue;
        warn_event(s, row, now, ahead, notes);
        any = true;
    }
    return any;
}

void plan_changed_unknown(const Season *s, size_t athlete, const Event *event,
                          Notes *notes) {
    size_t count;
    const HandedRow *rows = season_handed(s, athlete, &count);
    Text path = {0};
    Place place = {NULL, 0, NULL};
    char shown[TEXT_EXCERPT];
    if (!rows || event->start <= s->today || rows[0].issued > s->today ||
        rows[count - 1].date < event->start)
        return;
    for (size_t i = 0; i < count; i++)
        if (rows[i].event && text_same(rows[i].session, event->name))
            return;
    season_file(s, "plan", &path);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_WARNING, place,
              "knows nothing of %s, which events.csv has inside its days: hand "
              "out anew (plan --hand-out --replace)",
              text_excerpt(shown, event->name));
    text_free(&path);
}

/* ---- the usual week ---- */

/* What week.csv says of a day, and nothing else. */
static size_t written_day(const Usual *u, Date date,
                          PlannedSession sessions[USUAL_MOST]) {
    Usual week = *u;
    week.handed = false;
    week.change_count = week.cut_days = 0;
    week.weekdays = 0;
    week.gym_free = week.gym_again = 0;
    return usual_day(&week, date, sessions);
}

static bool is_event_day(const Season *s, size_t athlete, Date date) {
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (event_concerns(e, athlete) && date >= e->start &&
            date <= e->start + (Date)e->days) /* and the day after it */
            return true;
    }
    return false;
}

/* Is it a day of the plan of which nothing but week.csv tells? */
static bool tells(const Usual *u, Date date) {
    const Season *s = u->season;
    return date > s->today && !season_absence(s, u->athlete, date) &&
           !season_block(s, u->athlete, date) &&
           !is_event_day(s, u->athlete, date);
}

/* A session as it was planned from the usual week: none that was typed in. */
static bool is_session(const HandedRow *row) {
    return !row->event && !row->exercise && isfinite(row->usual_load) &&
           !text_same(row->session, "as given");
}

static const PlannedSession *find(const PlannedSession *sessions, size_t count,
                                  const char *name) {
    for (size_t i = 0; i < count; i++)
        if (text_same(sessions[i].session, name))
            return &sessions[i];
    return NULL;
}

/* "Court is 90 min there, 60 in week.csv"; false: the row is as week.csv says.
 */
static bool differs(const Usual *u, const HandedRow *row, Text *how) {
    PlannedSession sessions[USUAL_MOST];
    char shown[TEXT_EXCERPT];
    size_t count = written_day(u, row->date, sessions);
    const PlannedSession *now = find(sessions, count, row->session);
    text_clear(how);
    text_excerpt(shown, row->session);
    if (!now)
        text_add(how, "%s is not in week.csv", shown);
    else if (isfinite(row->usual_minutes) && isfinite(now->minutes) &&
             fabs(row->usual_minutes - now->minutes) > .5)
        text_add(how, "%s is %.0f min there, %.0f in week.csv", shown,
                 row->usual_minutes, now->minutes);
    return how->length > 0;
}

/* Days of a weekday with sessions in the plan, and those with this one. */
static size_t count_days(const Usual *u, int weekday, const char *name) {
    size_t count, days = 0;
    const HandedRow *rows = season_handed(u->season, u->athlete, &count);
    Date last = DATE_NONE;
    for (size_t i = 0; i < count; i++) {
        const HandedRow *row = &rows[i];
        if (date_weekday(row->date) != weekday || row->date == last ||
            !is_session(row) || (name && !text_same(row->session, name)) ||
            !tells(u, row->date))
            continue;
        last = row->date;
        days++;
    }
    return days;
}

/* A session of week.csv that the plan never has. */
static bool is_new(const Usual *u, Date date, Text *how) {
    PlannedSession sessions[USUAL_MOST];
    size_t count = written_day(u, date, sessions);
    char shown[TEXT_EXCERPT];
    int weekday = date_weekday(date);
    text_clear(how);
    if (count_days(u, weekday, NULL) < 2)
        return false;
    for (size_t i = 0; i < count; i++)
        if (count_days(u, weekday, sessions[i].session) == 0) {
            text_add(how, "%s of week.csv is not there",
                     text_excerpt(shown, sessions[i].session));
            return true;
        }
    return false;
}

void plan_changed_week(const Usual *u, Notes *notes) {
    const Season *s = u->season;
    size_t count, days = 0;
    const HandedRow *rows = season_handed(s, u->athlete, &count);
    Date last = DATE_NONE, first = DATE_NONE;
    Text path = {0}, how = {0}, words = {0};
    Place place = {NULL, 0, NULL};
    char day[DATE_TEXT];
    for (size_t i = 0; i < count && u->written; i++) {
        const HandedRow *row = &rows[i];
        if (!is_session(row) || !tells(u, row->date) || row->date == last ||
            !(differs(u, row, &how) || is_new(u, row->date, &how)))
            continue;
        last = row->date;
        if (days++ == 0) {
            first = row->date;
            text_add(&words, "%s", text_of(&how));
        }
    }
    season_file(s, "plan", &path);
    place.file = text_of(&path);
    if (days > 0)
        notes_add(notes, LEVEL_WARNING, place,
                  "was made from another usual week than week.csv has now, on "
                  "%zu day%s to come: on %s %s; hand out anew (plan --hand-out "
                  "--replace) if week.csv is right",
                  days, days == 1 ? "" : "s", date_write(day, first),
                  text_of(&words));
    text_free(&path);
    text_free(&how);
    text_free(&words);
}
