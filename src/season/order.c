/* order: puts athletes and sessions in an order that does not depend on that of
 * the files' rows.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <stdlib.h>
#include <string.h>

static const Athlete *sorting; /* the athletes while their order is made */

static int by_name(const void *a, const void *b) {
    const Athlete *x = &sorting[*(const size_t *)a];
    const Athlete *y = &sorting[*(const size_t *)b];
    if (x->listed != y->listed)
        return x->listed ? -1 : 1;
    if (x->listed)
        return x < y ? -1 : x > y;
    return strcmp(x->name, y->name);
}

/* Athletes of athletes.csv first, in its order, then the others by name, so
 * that the order of the log's rows changes nothing. */
void order_athletes(Season *s) {
    size_t *order = mem_new(s->athlete_count, sizeof *order);
    size_t *place = mem_new(s->athlete_count, sizeof *place);
    Athlete *sorted = mem_new(s->athlete_count, sizeof *sorted);
    for (size_t i = 0; i < s->athlete_count; i++)
        order[i] = i;
    sorting = s->athletes;
    qsort(order, s->athlete_count, sizeof *order, by_name);
    for (size_t i = 0; i < s->athlete_count; i++) {
        sorted[i] = s->athletes[order[i]];
        place[order[i]] = i;
    }
    if (s->athlete_count > 0)
        memcpy(s->athletes, sorted, s->athlete_count * sizeof *sorted);
    for (size_t i = 0; i < s->session_count; i++)
        s->sessions[i].athlete = (uint32_t)place[s->sessions[i].athlete];
    for (size_t i = 0; i < s->event_count; i++)
        if (s->events[i].athlete != NAMES_NONE)
            s->events[i].athlete = place[s->events[i].athlete];
    for (size_t i = 0; i < s->week_count; i++)
        if (s->week[i].athlete != NAMES_NONE)
            s->week[i].athlete = place[s->week[i].athlete];
    for (size_t i = 0; i < s->absence_count; i++)
        s->absences[i].athlete = place[s->absences[i].athlete];
    free(order);
    free(place);
    free(sorted);
}

static int by_time(const void *a, const void *b) {
    const Session *x = a, *y = b;
    if (x->athlete != y->athlete)
        return x->athlete < y->athlete ? -1 : 1;
    if (x->date != y->date)
        return x->date < y->date ? -1 : 1;
    if (x->minute != y->minute)
        return x->minute < y->minute ? -1 : 1;
    if (x->line != y->line)
        return x->line < y->line ? -1 : 1;
    return 0;
}

static bool in_order(const Session *sessions, size_t count) {
    for (size_t i = 1; i < count; i++)
        if (by_time(&sessions[i - 1], &sessions[i]) > 0)
            return false;
    return true;
}

static void sort_sessions(Session *sessions, size_t count) {
    if (!in_order(sessions, count))
        qsort(sessions, count, sizeof *sessions, by_time);
}

/* Puts the sessions athlete by athlete by counting them; each athlete's are
 * then in the order of the log, which mostly is that of time. */
void order_sessions(Season *s) {
    size_t count = s->session_count, from = 0;
    size_t
        *end; /* of each athlete's part; while it is filled, its next place */
    Session *ordered;
    if (in_order(s->sessions, count))
        return;
    end = mem_new(s->athlete_count + 1, sizeof *end);
    ordered = mem_new(count, sizeof *ordered);
    for (size_t i = 0; i < count; i++)
        end[s->sessions[i].athlete + 1]++;
    for (size_t i = 0; i < s->athlete_count; i++)
        end[i + 1] += end[i];
    for (size_t i = 0; i < count; i++)
        ordered[end[s->sessions[i].athlete]++] = s->sessions[i];
    for (size_t i = 0; i < s->athlete_count; from = end[i++])
        sort_sessions(ordered + from, end[i] - from);
    free(s->sessions);
    free(end);
    s->sessions = ordered;
    s->session_room = count;
}

/* Gives each athlete their part of the sorted sessions. */
void order_hand_out(Season *s) {
    size_t i = 0;
    while (i < s->session_count) {
        Athlete *a = &s->athletes[s->sessions[i].athlete];
        size_t from = i;
        while (i < s->session_count &&
               s->sessions[i].athlete == s->sessions[from].athlete)
            i++;
        a->sessions = &s->sessions[from];
        a->session_count = i - from;
    }
}
