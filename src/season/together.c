/* together: see together.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/together.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

enum { LOOKED_AT = 28 }; /* [d] the log's last days */

static bool of_week(const WeekRow *row, size_t athlete) {
    return row->date == DATE_NONE && !row->off &&
           (row->athlete == NAMES_NONE || row->athlete == athlete);
}

bool together_written(const Season *s, size_t athlete) {
    for (size_t i = 0; i < s->week_count; i++)
        if (of_week(&s->week[i], athlete))
            return true;
    return false;
}

/* Does week.csv leave out a session of the athlete's? */
static bool is_dropped(const Season *s, size_t athlete, int weekday,
                       const char *session) {
    bool written = false, has = false;
    for (size_t i = 0; i < s->week_count; i++) {
        const WeekRow *row = &s->week[i];
        bool day = row->date == DATE_NONE && row->weekday == weekday;
        if (day && row->off && row->athlete == athlete)
            return true;
        if (!of_week(row, athlete))
            continue;
        written = true;
        has = has || (day && text_same(row->session, session));
    }
    return written && !has;
}

static bool is_looked_at(const Season *s, const Session *one) {
    return one->date > s->last - LOOKED_AT;
}

/* ---- who has which session when ---- */

/* A row of the log, in an order that brings together what may be one session of
 * a squad. */
typedef struct {
    uint32_t squad, athlete;
    int weekday;
    size_t name; /* the same for all spellings */
    const Session *session;
} Look;

static int by_session(const void *a, const void *b) {
    const Look *x = a, *y = b;
    if (x->squad != y->squad)
        return x->squad < y->squad ? -1 : 1;
    if (x->weekday != y->weekday)
        return x->weekday < y->weekday ? -1 : 1;
    if (x->name != y->name)
        return x->name < y->name ? -1 : 1;
    if (x->athlete != y->athlete)
        return x->athlete < y->athlete ? -1 : 1;
    return (x->session->minute > y->session->minute) -
           (x->session->minute < y->session->minute);
}

/* Of each name of the log a number that letter case does not change. */
static size_t *fold_names(const Season *s) {
    size_t *number = mem_new(s->session_names.count, sizeof *number);
    Names folded = {0};
    for (size_t i = 0; i < s->session_names.count; i++) {
        char *name = mem_copy(s->session_names.items[i]);
        for (char *c = name; *c; c++)
            if (*c >= 'A' && *c <= 'Z')
                *c = (char)(*c - 'A' + 'a');
        number[i] = names_add(&folded, name, strlen(name));
        free(name);
    }
    names_free(&folded);
    return number;
}

/* Those of the last weeks with a load, and how many of each squad have any. */
static Look *look_at(const Season *s, size_t *count, size_t *trains) {
    Look *looks = NULL;
    size_t *number = fold_names(s), room = 0;
    *count = 0;
    for (size_t i = 0; i < s->athlete_count; i++) {
        const Athlete *a = &s->athletes[i];
        size_t before = *count;
        for (size_t k = a->session_count; k-- > 0;) {
            const Session *one = &a->sessions[k];
            if (!is_looked_at(s, one))
                break;
            if (one->load == 0)
                continue;
            looks = mem_grow(looks, &room, *count + 1, sizeof *looks);
            looks[(*count)++] =
                (Look){a->squad, (uint32_t)i, date_weekday(one->date),
                       number[one->name], one};
        }
        trains[a->squad] += *count > before;
    }
    free(number);
    if (*count > 1)
        qsort(looks, *count, sizeof *looks, by_session);
    return looks;
}

/* ---- what they have together ---- */

/* The time of more than half of one athlete's rows that have one, which are in
 * order of it; -1: there is none. */
static int usual_start(const Look *looks, size_t count) {
    size_t first = 0, timed, middle;
    while (first < count && looks[first].session->minute < 0)
        first++;
    timed = count - first;
    middle = first + timed / 2;
    for (size_t i = first, same = 0; i < count; i++) {
        same += looks[i].session->minute == looks[middle].session->minute;
        if (2 * same > timed)
            return looks[middle].session->minute;
    }
    return -1;
}

enum { DAY = 24 * 60 /* [min] */ };

/* Rows of one athlete. */
static size_t own_rows(const Look *looks, size_t count) {
    size_t own = 1;
    while (own < count && looks[own].athlete == looks[0].athlete)
        own++;
    return own;
}

/* The time at which more than half of the squad have it; -1: there is none. */
static int team_start(const Season *s, const Look *looks, size_t count,
                      size_t trains) {
    const char *name = s->session_names.items[looks[0].session->name];
    size_t *having = mem_new(DAY, sizeof *having);
    int found = -1;
    for (size_t from = 0, own; from < count; from += own) {
        size_t athlete = looks[from].athlete;
        int start;
        own = own_rows(looks + from, count - from);
        start = usual_start(looks + from, own);
        if (start < 0 || is_dropped(s, athlete, looks[from].weekday, name))
            continue;
        having[start]++;
        if (having[start] > 1 && 2 * having[start] > trains)
            found = start;
    }
    free(having);
    return found;
}

/* The median of what was logged of it at that time. */
static double median_minutes(const Look *looks, size_t count, int start) {
    double *minutes = mem_new(count, sizeof *minutes), median;
    size_t known = 0;
    for (size_t i = 0; i < count; i++)
        if (looks[i].session->minute == start && looks[i].session->minutes > 0)
            minutes[known++] = looks[i].session->minutes;
    median = load_median(minutes, known);
    free(minutes);
    return median;
}

static bool same_session(const Look *a, const Look *b) {
    return a->squad == b->squad && a->weekday == b->weekday &&
           a->name == b->name;
}

void together_find(Season *s) {
    size_t *trains = mem_new(s->squad_names.count, sizeof *trains);
    size_t count, room = 0;
    Look *looks = look_at(s, &count, trains);
    for (size_t from = 0, to; from < count; from = to) {
        const Look *first = &looks[from];
        int start;
        for (to = from + 1; to < count && same_session(first, &looks[to]);)
            to++;
        start = team_start(s, first, to - from, trains[first->squad]);
        if (start < 0)
            continue;
        s->team = mem_grow(s->team, &room, s->team_count + 1, sizeof *s->team);
        s->team[s->team_count++] =
            (TeamSession){.squad = first->squad,
                          .weekday = first->weekday,
                          .name = first->session->name,
                          .start = start,
                          .minutes = median_minutes(first, to - from, start)};
    }
    free(looks);
    free(trains);
}

/* Is the time mostly another at which the athlete logged the session? */
static bool at_own_time(const Season *s, size_t athlete,
                        const TeamSession *team) {
    const Athlete *a = &s->athletes[athlete];
    const char *name = s->session_names.items[team->name];
    size_t with = 0, timed = 0;
    for (size_t i = a->session_count;
         i-- > 0 && is_looked_at(s, &a->sessions[i]);) {
        const Session *one = &a->sessions[i];
        if (one->minute < 0 || date_weekday(one->date) != team->weekday ||
            !text_same(s->session_names.items[one->name], name))
            continue;
        timed++;
        with += one->minute == team->start;
    }
    return timed > 0 && 2 * with <= timed;
}

const TeamSession *together_session(const Season *s, size_t athlete,
                                    int weekday, const char *session) {
    for (size_t i = 0; i < s->team_count; i++) {
        const TeamSession *team = &s->team[i];
        if (team->squad == s->athletes[athlete].squad &&
            team->weekday == weekday &&
            text_same(s->session_names.items[team->name], session))
            return at_own_time(s, athlete, team) ? NULL : team;
    }
    return NULL;
}
