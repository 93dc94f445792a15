/* daily: see daily.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/daily.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static void add_sessions(const Athlete *a, Daily *d) {
    for (size_t i = 0; i < d->days; i++)
        d->kind[i] = DAY_REST;
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        size_t day = (size_t)(session->date - d->first);
        d->timed = d->timed || session->minute >= 0;
        if (!isfinite(session->load))
            d->kind[day] = DAY_UNRECORDED;
        else if (d->kind[day] == DAY_REST)
            d->kind[day] = DAY_TRAINED;
        d->load[day] += session->load;
    }
}

/* Days without a row that are known to be off, or of the return after it. */
static void find_absences(const Season *s, size_t athlete, Daily *d) {
    for (size_t i = 0; i < d->days && s->absence_count > 0; i++)
        if (d->kind[i] == DAY_REST &&
            season_absence(s, athlete, d->first + (Date)i))
            d->kind[i] = DAY_ABSENT;
}

static void find_gaps(Daily *d) {
    size_t from = 0;
    while (from < d->days) {
        size_t to = from;
        while (to < d->days && d->kind[to] == DAY_REST)
            to++;
        if (to - from >= GAP_DAYS) {
            d->gaps = mem_grow(d->gaps, &d->gap_room, d->gap_count + 1,
                               sizeof *d->gaps);
            d->gaps[d->gap_count++] = (Gap){from, to - from};
        }
        from = to + 1;
    }
}

static bool in_gap(const Daily *d, size_t day) {
    for (size_t i = 0; i < d->gap_count; i++)
        if (day >= d->gaps[i].from && day < d->gaps[i].from + d->gaps[i].days)
            return d->kind[day] == DAY_REST;
    return false;
}

/* Mean load of each weekday over the days [from, to), gaps that are not filled
 * and days not recorded left out; NAN where a weekday has none. */
static void weekday_means(const Daily *d, size_t from, size_t to,
                          double mean[7]) {
    double sum[7] = {0};
    size_t count[7] = {0};
    for (size_t i = from; i < to; i++) {
        int weekday = date_weekday(d->first + (Date)i);
        if (d->kind[i] == DAY_UNRECORDED || d->kind[i] == DAY_ABSENT ||
            in_gap(d, i))
            continue;
        sum[weekday] += d->load[i];
        count[weekday]++;
    }
    for (int i = 0; i < 7; i++)
        mean[i] = count[i] ? sum[i] / (double)count[i] : NAN;
}

static void fill_gaps(Daily *d) {
    double mean[7];
    weekday_means(d, 0, d->days, mean);
    for (size_t g = 0; g < d->gap_count; g++)
        for (size_t k = 0; k < d->gaps[g].days; k++) {
            size_t day = d->gaps[g].from + k;
            double load = mean[date_weekday(d->first + (Date)day)];
            d->load[day] = isfinite(load) ? load : 0;
            d->kind[day] = DAY_GAP;
        }
}

static void count_kinds(Daily *d) {
    for (size_t i = 0; i < d->days; i++) {
        bool rest = d->kind[i] == DAY_REST || d->kind[i] == DAY_ABSENT ||
                    (d->kind[i] == DAY_TRAINED && d->load[i] <= 0);
        d->rest += rest;
        d->trained += d->kind[i] == DAY_TRAINED && !rest;
        d->filled += d->kind[i] == DAY_GAP;
        d->unrecorded += d->kind[i] == DAY_UNRECORDED;
    }
}

static double moment(const Daily *d, Date date, int minute) {
    double day = (double)(date - d->first);
    if (!d->timed)
        return day;
    return day + (minute >= 0 ? minute / 1440.0 : DAILY_NOON);
}

static int by_time(const void *a, const void *b) {
    const double *x = a, *y = b;
    return (x[0] > y[0]) - (x[0] < y[0]);
}

/* Sessions and filled gap days as (time, dose) in order of time. */
static void make_impulses(const Athlete *a, Daily *d) {
    size_t most = a->session_count + d->filled;
    double *pair = mem_new(2 * most, sizeof *pair);
    size_t n = 0;
    for (size_t i = 0; i < a->session_count; i++, n++) {
        pair[2 * n] = moment(d, a->sessions[i].date, a->sessions[i].minute);
        pair[2 * n + 1] = a->sessions[i].load;
    }
    for (size_t i = 0; i < d->days; i++)
        if (d->kind[i] == DAY_GAP) {
            pair[2 * n] = moment(d, d->first + (Date)i, -1);
            pair[2 * n++ + 1] = d->load[i];
        }
    qsort(pair, n, 2 * sizeof *pair, by_time);
    d->impulses = n;
    d->time = mem_new(n, sizeof *d->time);
    d->dose = mem_new(n, sizeof *d->dose);
    for (size_t i = 0; i < n; i++) {
        d->time[i] = pair[2 * i];
        d->dose[i] = pair[2 * i + 1];
    }
    free(pair);
}

static void set_readings(Daily *d) {
    size_t next = 0;
    d->reading = mem_new(d->days, sizeof *d->reading);
    for (size_t i = 0; i < d->days; i++) {
        d->reading[i] = moment(d, d->first + (Date)i, -1);
        while (next < d->impulses && d->time[next] < (double)i)
            next++;
        if (d->timed && next < d->impulses && d->time[next] < (double)i + 1)
            d->reading[i] = d->time[next];
    }
}

void daily_build(const Season *s, size_t athlete, bool gaps_typical, Daily *d) {
    const Athlete *a = &s->athletes[athlete];
    *d = (Daily){.first = DATE_NONE};
    if (a->session_count == 0)
        return;
    d->first = a->sessions[0].date;
    d->days = (size_t)(a->sessions[a->session_count - 1].date - d->first) + 1;
    d->load = mem_new(d->days, sizeof *d->load);
    d->kind = mem_new(d->days, sizeof *d->kind);
    add_sessions(a, d);
    find_absences(s, athlete, d);
    find_gaps(d);
    if (gaps_typical)
        fill_gaps(d);
    count_kinds(d);
    make_impulses(a, d);
    set_readings(d);
}

void daily_free(Daily *d) {
    free(d->load);
    free(d->kind);
    free(d->gaps);
    free(d->time);
    free(d->dose);
    free(d->reading);
    *d = (Daily){0};
}

/* One impulse more, in order of time. */
static void add_impulse(Daily *d, double time, double dose) {
    size_t at = d->impulses, room = d->impulses;
    d->time = mem_grow(d->time, &room, d->impulses + 1, sizeof *d->time);
    room = d->impulses;
    d->dose = mem_grow(d->dose, &room, d->impulses + 1, sizeof *d->dose);
    for (; at > 0 && d->time[at - 1] > time; at--) {
        d->time[at] = d->time[at - 1];
        d->dose[at] = d->dose[at - 1];
    }
    d->time[at] = time;
    d->dose[at] = dose;
    d->impulses++;
}

void daily_replace(Daily *d, Date date, double load) {
    size_t day = (size_t)(date - d->first);
    double sum = d->load[day];
    if (!(sum > 0) && load > 0)
        add_impulse(d, moment(d, date, -1), load);
    for (size_t i = 0; i < d->impulses && sum > 0; i++)
        if (d->time[i] >= (double)day && d->time[i] < (double)day + 1)
            d->dose[i] *= load / sum;
    d->load[day] = load;
    d->kind[day] = load > 0 ? DAY_TRAINED : DAY_REST;
}

double daily_first_mean(const Daily *d) {
    size_t days = d->days < 28 ? d->days : 28;
    double sum = 0;
    for (size_t i = 0; i < days; i++)
        sum += d->load[i];
    return days ? sum / (double)days : 0;
}
