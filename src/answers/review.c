/* review: see review.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/review.h"

#include "base/mem.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

enum {
    WEEKS_BACK = 28, /* [d] looked back where no plan was handed out */
    NEAREST = 14,    /* [d] after the event's end a test is still of it */
    LAST_TESTS = 3   /* whose mean a change is counted from */
};

static const double z90 = 1.6448536269514722; /* 95 % point of a normal */

Date review_issued(const Context *d, bool *planned) {
    Date issued = DATE_NONE;
    for (size_t i = 0; i < d->chosen_count; i++) {
        size_t count;
        const HandedRow *rows = season_handed(d->season, d->chosen[i], &count);
        if (rows && (issued == DATE_NONE || rows[0].issued > issued))
            issued = rows[0].issued;
    }
    *planned = issued != DATE_NONE;
    return *planned ? issued : d->season->today - WEEKS_BACK;
}

void review_forget_tests(Season *s, Date after) {
    for (size_t i = 0; i < s->athlete_count; i++) {
        Athlete *a = &s->athletes[i];
        while (a->test_count > 0 && a->tests[a->test_count - 1].date > after)
            a->test_count--;
    }
}

/* ---- planned and done ---- */

static ReviewWeek *week_of(Review *r, Date date) {
    Date monday = date - date_weekday(date);
    for (size_t i = 0; i < r->weeks; i++)
        if (r->week[i].monday == monday)
            return &r->week[i];
    return NULL;
}

static void make_weeks(Review *r, Date last) {
    Date monday = r->issued + 1 - date_weekday(r->issued + 1);
    size_t most = last > r->issued ? (size_t)((last - monday) / 7 + 1) : 0;
    r->week = mem_new(most, sizeof *r->week);
    for (; r->weeks < most; r->weeks++)
        r->week[r->weeks].monday = monday + 7 * (Date)r->weeks;
}

static void add_planned(const Case *then, Review *r, Date last) {
    PlannedSession sessions[USUAL_MOST];
    for (Date date = r->issued + 1; date <= last; date++) {
        ReviewWeek *week = week_of(r, date);
        size_t count = usual_day(&then->usual, date, sessions);
        for (size_t i = 0; i < count; i++) {
            week->sessions[0] += sessions[i].load > 0;
            week->load[0] += sessions[i].load;
            if (isfinite(sessions[i].minutes))
                week->minutes[0] += sessions[i].minutes;
        }
    }
}

static void add_sets(const Season *s, Review *r, Date last) {
    size_t count;
    const HandedRow *rows = season_handed(s, r->athlete, &count);
    for (size_t i = 0; i < count; i++)
        if (rows[i].exercise && rows[i].date <= last)
            week_of(r, rows[i].date)->sets += rows[i].sets;
}

static void add_done(const Season *s, Review *r, Date last) {
    const Athlete *a = &s->athletes[r->athlete];
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        ReviewWeek *week;
        if (session->date <= r->issued || session->date > last ||
            !(session->load > 0))
            continue;
        week = week_of(r, session->date);
        week->sessions[1]++;
        week->load[1] += session->load;
        if (isfinite(session->minutes))
            week->minutes[1] += session->minutes;
    }
    for (size_t i = 0; i < r->weeks; i++)
        for (int k = 0; k < 2; k++)
            r->total[k] += r->week[i].load[k];
}

/* ---- forecast and outcome ---- */

/* Readiness at the event, all draws, as the days of the outlook are. */
static double expected(const Case *c, double *low, double *high) {
    DrawScores draws;
    Aim aim = c->context->question->aim;
    double mean = 0, *value, a, b;
    draw_scores_build(&c->outlook, case_draws(c), aim, NAN, &draws);
    value = mem_new(draws.count, sizeof *value);
    for (size_t i = 0; i < draws.count; i++) {
        value[i] = score_aim(&draws.score[i], draws.score[i].base);
        mean += value[i] / (double)draws.count;
    }
    a = case_shown(c, draws_quantile(value, draws.count, .05));
    b = case_shown(c, draws_quantile(value, draws.count, .95));
    *low = fmin(a, b);
    *high = fmax(a, b);
    draw_scores_free(&draws);
    free(value);
    return case_shown(c, mean);
}

/* Index of the kind of test that a model speaks of, or NAMES_NONE. */
static size_t kind_of(const Season *s, const Model *m) {
    for (size_t i = 0; m->scaled && i < s->test_names.count; i++)
        if (text_same(s->test_names.items[i], m->unit))
            return i;
    return NAMES_NONE;
}

static void find_outcome(const Season *s, size_t kind, Review *r) {
    const Athlete *a = &s->athletes[r->athlete];
    double sum = 0;
    size_t count = 0;
    for (size_t i = a->test_count; i-- > 0;) {
        const Test *test = &a->tests[i];
        if (test->test != kind)
            continue;
        if (test->date <= r->issued && count < LAST_TESTS) {
            sum += test->value;
            count++;
        }
        if (test->date >= r->event->start &&
            test->date < r->event->start + r->event->days + NEAREST) {
            r->measured = true; /* the first of them, in the end */
            r->outcome = test->value;
            r->measured_on = test->date;
        }
    }
    r->before = count ? sum / (double)count : NAN;
    r->lower = s->test_kinds[kind].lower_better;
}

/* ---- the test's own noise ---- */

static void typical_error(const Season *s, size_t kind, Date until,
                          Reviews *all) {
    double sum = 0, square = 0, given = 0, means = 0, squares = 0;
    size_t pairs = 0, errors = 0, athletes = 0;
    for (size_t i = 0; i < s->athlete_count; i++) {
        const Athlete *a = &s->athletes[i];
        const Test *before = NULL;
        double own = 0;
        size_t count = 0;
        for (size_t k = 0; k < a->test_count; k++) {
            const Test *test = &a->tests[k];
            if (test->test != kind || test->date > until)
                continue;
            own += test->value;
            count++;
            if (isfinite(test->error)) {
                given += test->error;
                errors++;
            }
            if (before) {
                double step = test->value - before->value;
                sum += step;
                square += step * step;
                pairs++;
            }
            before = test;
        }
        if (count > 0) {
            means += own / (double)count;
            squares += own / (double)count * own / (double)count;
            athletes++;
        }
    }
    all->typical_error = all->worthwhile = NAN;
    if (errors > 0)
        all->typical_error = given / (double)errors;
    else if (pairs > 2)
        all->typical_error = sqrt((square - sum * sum / (double)pairs) /
                                  (double)(pairs - 1) / 2);
    if (athletes > 2)
        all->worthwhile =
            .2 * sqrt(fmax(0, squares - means * means / (double)athletes) /
                      (double)(athletes - 1));
}

/* Probability that a change of tests, each with the typical error, is above the
 * smallest worthwhile one (Hopkins 2004; the mean of the last tests counts as
 * of three). */
static void judge(const Reviews *all, Review *r) {
    double change = r->outcome - r->before;
    double error = all->typical_error * sqrt(1 + 1. / LAST_TESTS);
    r->chance_better = NAN;
    if (r->lower)
        change = -change;
    if (r->measured && isfinite(change) && error > 0 &&
        isfinite(all->worthwhile))
        r->chance_better =
            gsl_cdf_ugaussian_P((change - all->worthwhile) / error);
}

/* A measured outcome has the test's noise on top. */
static void widen(const Reviews *all, Review *r) {
    double noise = isfinite(all->typical_error) ? z90 * all->typical_error : 0;
    r->low = r->forecast - hypot(r->forecast - r->low, noise);
    r->high = r->forecast + hypot(r->high - r->forecast, noise);
}

static const Case *case_of(const Case *cases, size_t count, size_t athlete) {
    for (size_t i = 0; i < count; i++)
        if (cases[i].athlete == athlete)
            return &cases[i];
    return NULL;
}

static bool same_event(const Event *a, const Event *b) {
    return text_same(a->name, b->name) && a->start == b->start;
}

static bool still_there(const Season *s, const Event *event) {
    for (size_t i = 0; i < s->event_count; i++)
        if (same_event(&s->events[i], event))
            return true;
    return false;
}

static void review_one(const Context *d, const Case *then, const Case *now,
                       Review *r) {
    const Season *s = d->season;
    Date last = s->today;
    double unused[2];
    if (then->event && last >= then->event->start)
        last = then->event->start - 1;
    r->athlete = then->athlete;
    r->name = then->name;
    r->issued = then->context->season->today;
    r->forecast = r->low = r->high = r->now = r->outcome = r->before = NAN;
    r->event = then->event && still_there(s, then->event) ? then->event : NULL;
    make_weeks(r, last);
    add_planned(then, r, last);
    add_sets(s, r, last);
    add_done(s, r, last);
    if (!r->event || !case_model(then)->scaled)
        return;
    r->unit = case_model(then)->unit;
    r->forecast = expected(then, &r->low, &r->high);
    if (now && now->event && same_event(now->event, then->event))
        r->now = expected(now, &unused[0], &unused[1]);
    find_outcome(s, kind_of(s, case_model(then)), r);
}

void review_make(const Context *now, const Case *cases_now, size_t count_now,
                 const Case *then, size_t count, bool planned, Reviews *all) {
    *all = (Reviews){.item = mem_new(count, sizeof *all->item),
                     .count = count,
                     .over = true,
                     .typical_error = NAN,
                     .worthwhile = NAN};
    for (size_t i = 0; i < count; i++) {
        Review *r = &all->item[i];
        r->planned = planned;
        review_one(now, &then[i],
                   case_of(cases_now, count_now, then[i].athlete), r);
        all->over = all->over && r->event &&
                    r->event->start + r->event->days <= now->season->today;
        if (r->unit && isnan(all->typical_error))
            typical_error(now->season,
                          kind_of(now->season, case_model(&then[i])), r->issued,
                          all);
    }
    for (size_t i = 0; i < count; i++) {
        widen(all, &all->item[i]);
        judge(all, &all->item[i]);
    }
}

void review_free(Reviews *all) {
    for (size_t i = 0; i < all->count; i++)
        free(all->item[i].week);
    free(all->item);
}

bool review_inside(const Review *r) {
    return r->measured && r->outcome >= r->low && r->outcome <= r->high;
}
