/* weeks_ahead: see weeks_ahead.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/weeks_ahead.h"

#include "base/mem.h"
#include "taper/outlook.h"

#include <math.h>
#include <stdlib.h>

/* What is known of the days. */
typedef struct {
    const Usual *usual;
    const Daily *daily;
} Days;

static bool is_logged(const Days *d, Date date) {
    return date < d->daily->first + (Date)d->daily->days;
}

/* NAN before the log and where it is not recorded. */
static double load_of(const Days *d, Date date) {
    const Event *event;
    if (date < d->daily->first)
        return NAN;
    return is_logged(d, date) ? d->daily->load[date - d->daily->first]
                              : outlook_day(d->usual, date, &event);
}

static double week_load(const Days *d, Date monday) {
    double sum = 0;
    for (int i = 0; i < 7; i++)
        sum += load_of(d, monday + i);
    return sum;
}

static double rise_of(const Days *d, const WeekAhead *week) {
    double most = 0;
    for (int i = 1; i <= 4; i++) {
        double load = week_load(d, week->monday - 7 * i);
        if (isnan(load))
            return NAN;
        most = fmax(most, load);
    }
    return most > 0 ? week->load / most - 1 : NAN;
}

static WeekAhead week_at(const Days *d, Date monday, double usual) {
    const Season *s = d->usual->season;
    size_t who = d->usual->athlete;
    WeekAhead w = {.monday = monday, .load = week_load(d, monday)};
    w.block = season_block(s, who, monday);
    w.rise = rise_of(d, &w);
    for (int i = 0; i < 7; i++) {
        const Event *event = NULL;
        w.logged += is_logged(d, monday + i);
        if (!w.absence)
            w.absence = season_absence(s, who, monday + i);
        outlook_day(d->usual, monday + i, &event);
        w.event = w.event ? w.event : event;
    }
    w.low = !w.absence && w.load < WEEK_LOW * usual;
    return w;
}

/* The day after the last that a file tells of. */
static Date end_of_files(const Season *s, size_t athlete) {
    Date end = s->today + 1 + 7 * WEEKS_AHEAD_LEAST;
    for (size_t i = 0; i < s->event_count; i++)
        if (event_concerns(&s->events[i], athlete) &&
            s->events[i].start + s->events[i].days > end)
            end = s->events[i].start + s->events[i].days;
    for (size_t i = 0; i < s->block_count; i++)
        if ((s->blocks[i].athlete == NAMES_NONE ||
             s->blocks[i].athlete == athlete) &&
            block_end(&s->blocks[i]) > end)
            end = block_end(&s->blocks[i]);
    for (size_t i = 0; i < s->absence_count; i++)
        if (s->absences[i].athlete == athlete &&
            s->absences[i].to + s->absences[i].return_days >= end)
            end = s->absences[i].to + s->absences[i].return_days + 1;
    return end;
}

void weeks_ahead_make(const Usual *u, const Daily *daily, WeeksAhead *a) {
    const Days days = {u, daily};
    Date first = u->season->today + 1;
    Date end = end_of_files(u->season, u->athlete);
    first -= date_weekday(first);
    *a = (WeeksAhead){.usual = usual_week_load(u)};
    if (daily->days == 0)
        return;
    a->count = (size_t)(end - first + 6) / 7;
    if (a->count > WEEKS_AHEAD_MOST)
        a->count = WEEKS_AHEAD_MOST;
    a->weeks = mem_new(a->count, sizeof *a->weeks);
    for (size_t i = 0; i < a->count; i++)
        a->weeks[i] = week_at(&days, first + 7 * (Date)i, a->usual);
}

void weeks_ahead_free(WeeksAhead *a) {
    free(a->weeks);
    *a = (WeeksAhead){0};
}

bool weeks_ahead_rises(const WeekAhead *w) {
    /* digits behind the eighth are no rise */
    return !w->event && w->rise > WEEK_RISE_MUCH + 1e-9;
}

size_t weeks_ahead_low(const WeeksAhead *a, size_t from) {
    for (size_t i = from; i + 4 <= a->count; i++) {
        int low = 0;
        for (size_t k = i; k < i + 4; k++)
            low += a->weeks[k].low;
        if (low >= LOW_WEEKS && a->weeks[i].low)
            return i;
    }
    return a->count;
}
