/* coverage: see coverage.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/coverage.h"

#include "base/mem.h"
#include "cases/event_rules.h"
#include "cases/warnings.h"
#include "season/check.h"
#include "season/plan_changed.h"

#include <math.h>
#include <stdlib.h>

/* Of the weeks with training: a year without says nothing of what is usual. */
static double median_week(const Daily *d) {
    double *sums = mem_new(d->days / 7 + 1, sizeof *sums), median;
    size_t count = 0;
    for (size_t i = 0; i + 7 <= d->days; i++) {
        double sum = 0;
        if (date_weekday(d->first + (Date)i) != 0)
            continue;
        for (size_t k = 0; k < 7; k++)
            sum += d->load[i + k];
        if (isfinite(sum) && sum > 0)
            sums[count++] = sum;
    }
    median = load_median(sums, count);
    free(sums);
    return median;
}

static void cover(const Context *d, size_t athlete, Coverage *c) {
    Daily daily;
    daily_build(d->season, athlete, d->question->read.gaps_typical, &daily);
    *c = (Coverage){.athlete = &d->season->athletes[athlete],
                    .first = daily.first,
                    .days = daily.days,
                    .trained = daily.trained,
                    .rest = daily.rest,
                    .filled = daily.filled,
                    .unrecorded = daily.unrecorded,
                    .week = median_week(&daily)};
    for (size_t i = 0; i < daily.gap_count; i++)
        if (daily.gaps[i].days > c->longest_gap)
            c->longest_gap = daily.gaps[i].days;
    daily_free(&daily);
}

/* Does the plan handed out still follow from these files? */
static void note_plan(const Season *s, const Usual *usual, Notes *notes) {
    bool told = plan_changed_event(s, usual->athlete, false, notes);
    for (size_t i = 0; i < s->event_count && !told; i++)
        if (event_concerns(&s->events[i], usual->athlete))
            plan_changed_unknown(s, usual->athlete, &s->events[i], notes);
    plan_changed_week(usual, notes);
}

/* A row of week.csv whose load cannot be told stops the other commands; little
 * training makes their answers empty. */
static void note_week(const Context *d, size_t athlete, Notes *notes) {
    Daily daily;
    Usual usual;
    daily_build(d->season, athlete, false, &daily);
    usual_build(d->season, athlete, &daily, &usual, notes);
    warnings_of_base(&daily, d->season->athletes[athlete].name, notes);
    note_plan(d->season, &usual, notes);
    usual_free(&usual);
    daily_free(&daily);
}

/* Looks at one athlete; of one asked for (`c`) it says what stops the other
 * commands, and what the log covers. */
static void look_at(const Context *d, size_t athlete, Coverage *c,
                    Notes *notes) {
    Season *s = d->season;
    if (c && s->athletes[athlete].session_count > 0) {
        season_require_loads(s, athlete, notes);
        note_week(d, athlete, notes);
        cover(d, athlete, c);
    }
}

size_t coverage_look(const Context *d, Coverage *c, Notes *notes) {
    size_t count = 0;
    Coverage **of = mem_new(d->season->athlete_count, sizeof *of);
    for (size_t i = 0; i < d->chosen_count; i++)
        of[d->chosen[i]] = &c[i];
    check_season(d->season, notes);
    for (size_t i = 0; i < d->season->athlete_count; i++)
        look_at(d, i, of[i], notes);
    for (size_t i = 0; i < d->chosen_count; i++)
        if (c[i].athlete)
            c[count++] = c[i];
    free(of);
    return count;
}

void coverage_note_events(const Season *s, Notes *notes) {
    for (size_t i = 0; i < s->event_count; i++)
        if (s->events[i].start > s->today)
            event_rules_warn(s, &s->events[i], false, notes);
}
