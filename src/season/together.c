/* together: see together.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/together.h"

#include "base/mem.h"

#include <stdlib.h>

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

static bool has_row(const Season *s, size_t athlete, int weekday,
                    const char *session) {
    for (size_t i = 0; i < s->week_count; i++)
        if (of_week(&s->week[i], athlete) && s->week[i].weekday == weekday &&
            text_same(s->week[i].session, session))
            return true;
    return false;
}

static bool trains(const Season *s, const Athlete *a) {
    return a->session_count > 0 &&
           a->sessions[a->session_count - 1].date > s->last - LOOKED_AT;
}

/* When an athlete has the session [min after midnight]; -1: they do not have
 * it, or not at one time. */
static int start_of(const Season *s, size_t athlete, int weekday,
                    const char *session) {
    const Athlete *a = &s->athletes[athlete];
    int start = -1;
    if (together_written(s, athlete) && !has_row(s, athlete, weekday, session))
        return -1;
    for (size_t i = a->session_count; i-- > 0;) {
        const Session *one = &a->sessions[i];
        if (one->date <= s->last - LOOKED_AT)
            break;
        if (date_weekday(one->date) != weekday ||
            !text_same(s->session_names.items[one->name], session))
            continue;
        if (one->minute < 0 || (start >= 0 && one->minute != start))
            return -1;
        start = one->minute;
    }
    return start;
}

bool together_session(const Season *s, size_t athlete, int weekday,
                      const char *session) {
    size_t others = 0;
    int start = -1;
    if (s->athlete_count > 1)
        start = start_of(s, athlete, weekday, session);
    for (size_t i = 0; i < s->athlete_count && start >= 0; i++) {
        const Athlete *a = &s->athletes[i];
        if (i == athlete || a->squad != s->athletes[athlete].squad ||
            !trains(s, a))
            continue;
        others++;
        if (start_of(s, i, weekday, session) != start)
            return false;
    }
    return others > 0;
}

double together_minutes(const Season *s, size_t athlete, int weekday,
                        const char *session) {
    double *minutes = mem_new(s->session_count, sizeof *minutes), median;
    size_t count = 0;
    for (size_t i = 0; i < s->athlete_count; i++) {
        const Athlete *a = &s->athletes[i];
        for (size_t k = a->session_count;
             k-- > 0 && a->squad == s->athletes[athlete].squad;) {
            const Session *one = &a->sessions[k];
            if (one->date <= s->last - LOOKED_AT)
                break;
            if (one->minutes > 0 && date_weekday(one->date) == weekday &&
                text_same(s->session_names.items[one->name], session))
                minutes[count++] = one->minutes;
        }
    }
    median = load_median(minutes, count);
    free(minutes);
    return median;
}
