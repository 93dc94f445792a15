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

/* The last event of those asked for that has begun; NULL: none. */
static const Event *begun(const Context *d, const char *name) {
    const Season *s = d->season;
    const Event *last = NULL;
    for (size_t i = 0; i < d->chosen_count; i++)
        for (size_t k = 0; k < s->event_count; k++) {
            const Event *e = &s->events[k];
            if (event_concerns(e, d->chosen[i]) && e->start <= s->today &&
                (!name || text_same(e->name, name)) &&
                (!last || e->start > last->start))
                last = e;
        }
    return last;
}

/* Has somebody asked for the event that is to come? */
static bool to_come(const Context *d) {
    for (size_t i = 0; i < d->chosen_count; i++) {
        const Event *e =
            season_event(d->season, d->chosen[i], d->question->event);
        if (e && e->start > d->season->today)
            return true;
    }
    return false;
}

const Event *review_over(const Context *d) {
    return to_come(d) ? NULL : begun(d, d->question->event);
}

Date review_issued(const Context *d, bool *planned) {
    Date issued = DATE_NONE;
    const Event *over = review_over(d);
    for (size_t i = 0; i < d->chosen_count; i++) {
        size_t count;
        const HandedRow *rows = season_handed(d->season, d->chosen[i], &count);
        if (rows && !d->question->ignore_plan &&
            (issued == DATE_NONE || rows[0].issued > issued))
            issued = rows[0].issued;
    }
    *planned = issued != DATE_NONE;
    return *planned ? issued
                    : (over ? over->start : d->season->today) - WEEKS_BACK;
}

/* The event in an athlete's rows that they lead to, the last; where they weigh
 * several, the last that has begun, before that the first. NULL: none. */
static const HandedRow *led_to(const Season *s, size_t athlete) {
    size_t count;
    const HandedRow *rows = season_handed(s, athlete, &count), *to = NULL;
    for (size_t i = 0; i < count; i++)
        if (rows[i].event &&
            (!to || !rows[i].joint || rows[i].date <= s->today))
            to = &rows[i];
    return to;
}

const Event *review_event(const Context *d) {
    const HandedRow *to = NULL;
    for (size_t i = 0; i < d->chosen_count && !d->question->ignore_plan; i++) {
        const HandedRow *row = led_to(d->season, d->chosen[i]);
        if (row && to && !text_same(to->session, row->session))
            return NULL;
        if (row)
            to = row;
    }
    return to ? season_event(d->season, to->athlete, to->session)
              : review_over(d);
}

void review_forget(Season *s, Date after) {
    size_t kept = 0;
    for (size_t i = 0; i < s->absence_count; i++)
        if (s->absences[i].from <= after)
            s->absences[kept++] = s->absences[i];
    s->absence_count = kept;
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

/* Days of an event on the way have its load, which nobody plans. */
static bool of_event(const Season *s, size_t athlete, Date date) {
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (event_concerns(e, athlete) && date >= e->start &&
            date < e->start + (Date)e->days)
            return true;
    }
    return false;
}

static void make_weeks(const Season *s, Review *r) {
    Date first = r->issued + 1, monday = first - date_weekday(first);
    size_t most = r->until >= first ? (size_t)((r->until - monday) / 7 + 1) : 0;
    r->week = mem_new(most, sizeof *r->week);
    for (; r->weeks < most; r->weeks++) {
        ReviewWeek *week = &r->week[r->weeks];
        week->monday = monday + 7 * (Date)r->weeks;
        week->days = 7;
        if (week->monday < first)
            week->days -= first - week->monday;
        if (week->monday + 6 > r->until)
            week->days -= week->monday + 6 - r->until;
        for (Date date = week->monday; date < week->monday + 7; date++)
            week->days -= date >= first && date <= r->until &&
                          of_event(s, r->athlete, date);
    }
}

static void add_planned(const Case *then, Review *r) {
    PlannedSession sessions[USUAL_MOST];
    for (Date date = r->issued + 1; date <= r->until; date++) {
        ReviewWeek *week = week_of(r, date);
        size_t count = usual_day(&then->usual, date, sessions);
        if (of_event(then->context->season, r->athlete, date))
            continue;
        for (size_t i = 0; i < count; i++) {
            week->sessions[0] += sessions[i].load > 0;
            week->load[0] += sessions[i].load;
            if (r->logged == DATE_NONE || date > r->logged)
                r->open += sessions[i].load;
            if (isfinite(sessions[i].minutes))
                week->minutes[0] += sessions[i].minutes;
        }
    }
}

static void add_sets(const Season *s, Review *r) {
    size_t count;
    const HandedRow *rows = season_handed(s, r->athlete, &count);
    for (size_t i = 0; i < count && r->planned; i++)
        if (rows[i].exercise && rows[i].date > r->issued &&
            rows[i].date <= r->until && isfinite(rows[i].sets))
            week_of(r, rows[i].date)->sets += rows[i].sets;
}

static void add_done(const Season *s, Review *r) {
    const Athlete *a = &s->athletes[r->athlete];
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        ReviewWeek *week;
        if (session->date <= r->issued || session->date > r->until ||
            !(session->load > 0) || of_event(s, r->athlete, session->date))
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

static bool is_of_event(const HandedRow *row, const Review *r) {
    return row->event && text_same(row->session, r->event->name);
}

/* The row of the plan that tells what was forecast for an event; NULL: none, or
 * the event has another day since. */
static const HandedRow *forecast_of(const Season *s, const Review *r) {
    size_t count;
    const HandedRow *rows = season_handed(s, r->athlete, &count);
    for (size_t i = 0; i < count && r->planned; i++)
        if (is_of_event(&rows[i], r) && rows[i].version &&
            rows[i].date == r->event->start)
            return &rows[i];
    return NULL;
}

static Date last_test(const Season *s, size_t athlete, const Event *event) {
    Date last = event->start + event->days - 1 + NEAREST;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (event_concerns(e, athlete) && e->start > event->start &&
            e->start <= last)
            last = e->start - 1;
    }
    return last;
}

/* Tests after the log are known, unless today is said to be another day. */
static void find_outcome(const Context *d, size_t kind, Review *r) {
    const Season *s = d->season;
    bool all = d->question->read.today == DATE_NONE;
    const Athlete *a = &s->athletes[r->athlete];
    double sum = 0;
    size_t count = 0;
    for (size_t i = a->test_count; i-- > 0;) {
        const Test *test = &a->tests[i];
        if (test->date > s->today && !all)
            continue;
        if (test->test != kind) {
            if (test->date >= r->event->start && test->date <= r->last_test)
                r->other = s->test_names.items[test->test];
            continue;
        }
        if (test->date <= r->issued && count < LAST_TESTS) {
            sum += test->value;
            count++;
        }
        if (test->date >= r->event->start) { /* the first of them, in the end */
            r->late = test->date > r->last_test;
            r->measured = !r->late;
            r->outcome = test->value;
            r->measured_on = test->date;
        }
    }
    r->before = count ? sum / (double)count : NAN;
    r->lower = s->test_kinds[kind].lower_better;
}

/* Probability that a change of tests, each with the typical error, is above the
 * smallest worthwhile one (Hopkins 2004; the mean of the last tests counts as
 * of three). */
static void judge(Review *r) {
    double change = r->outcome - r->before;
    double error = r->noise.typical_error * sqrt(1 + 1. / LAST_TESTS);
    if (r->lower)
        change = -change;
    if (r->measured && isfinite(change) && error > 0 &&
        isfinite(r->noise.worthwhile))
        r->chance_better =
            gsl_cdf_ugaussian_P((change - r->noise.worthwhile) / error);
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

/* The event of the plan may be in the season no more. */
static bool still_there(const Season *s, const Review *r) {
    const HandedRow *row = led_to(s, r->athlete);
    return !r->planned || !row || season_event(s, row->athlete, row->session);
}

/* Planned and done, of the days that are logged and before the event. */
static void compare(const Season *s, const Case *then, Review *r) {
    const Athlete *a = &s->athletes[then->athlete];
    r->until = s->today < s->last ? s->today : s->last;
    if (then->event && r->until >= then->event->start)
        r->until = then->event->start - 1;
    r->logged =
        a->session_count ? a->sessions[a->session_count - 1].date : DATE_NONE;
    make_weeks(s, r);
    add_planned(then, r);
    add_sets(s, r);
    add_done(s, r);
}

/* Is another kind of test asked for than the forecast kept is of? */
static bool asks_other(const Case *then, const HandedRow *kept) {
    const Model *model = case_model(then);
    return then->context->question->test && kept->test && model->scaled &&
           !text_same(kept->test, model->unit);
}

/* As the plan holds it, else from what is known of the day of issue. */
static void foretell(const Season *s, const Case *then, const Case *now,
                     Review *r) {
    const HandedRow *kept = forecast_of(s, r);
    Foretold told = {NAN, NAN, NAN, NULL};
    if (kept && asks_other(then, kept))
        kept = NULL;
    if (kept)
        told = (Foretold){kept->forecast, kept->low, kept->high, kept->test};
    else
        told = foretold_as_usual(then);
    r->kept = kept != NULL;
    r->forecast = told.value;
    r->low = told.low;
    r->high = told.high;
    r->unit = told.test;
    if (!r->unit && case_model(then)->scaled)
        r->unit = case_model(then)->unit;
    if (isnan(told.value) || !now || !now->event ||
        !same_event(now->event, r->event))
        return;
    told = foretold_as_usual(now);
    if (told.test && text_same(told.test, r->unit))
        r->now = told.value;
}

/* Does the plan lead to the event? */
static void find_meant(const Season *s, Review *r) {
    size_t count;
    const HandedRow *rows = season_handed(s, r->athlete, &count);
    const HandedRow *last = led_to(s, r->athlete);
    for (size_t i = 0; i < count; i++)
        if (is_of_event(&rows[i], r)) {
            r->file = rows[i].file;
            return;
        }
    if (!last)
        return;
    r->meant = last->session;
    r->meant_until = last->date;
}

/* Share of the forecast beyond which its 90 % range says nothing (our own
 * bound, no source: tapers bring some 3 %). */
#define VAGUE .5

/* Tests that scatter much are no fault of the model's, so not counted. */
static bool is_vague(const Review *r) {
    double width = r->high - r->low;
    double noise = 2 * FORETOLD_Z90 * r->noise.typical_error;
    if (isfinite(noise))
        width = sqrt(fmax(0, width * width - noise * noise));
    return width > VAGUE * fabs(r->forecast);
}

static void review_one(const Context *d, const Case *then, const Case *now,
                       Review *r) {
    const Season *s = d->season;
    const HandedRow *rows;
    size_t kind, count;
    r->athlete = then->athlete;
    r->name = then->name;
    r->issued = then->context->season->today;
    r->forecast = r->low = r->high = r->now = r->outcome = r->before =
        r->chance_better = NAN;
    r->noise = (TestNoise){NAN, NAN};
    rows = r->planned ? season_handed(s, r->athlete, &count) : NULL;
    r->outside = r->planned && !rows;
    r->older = rows && rows[0].issued < r->issued;
    r->event = still_there(s, r) ? then->event : NULL;
    compare(s, then, r);
    if (!r->event)
        return;
    if (r->planned && !r->outside)
        find_meant(s, r);
    foretell(s, then, now, r);
    r->last_test = last_test(s, r->athlete, r->event);
    kind = r->unit ? foretold_kind(s, r->unit) : NAMES_NONE;
    if (kind == NAMES_NONE)
        return;
    r->noise = foretold_noise(s, kind, r->issued);
    r->vague = is_vague(r);
    find_outcome(d, kind, r);
    judge(r);
}

static void find_joined(const Context *now, const Case *then, size_t count,
                        Reviews *all) {
    all->joined = mem_new(now->chosen_count, sizeof *all->joined);
    for (size_t i = 0; i < now->chosen_count; i++)
        if (!case_of(then, count, now->chosen[i]))
            all->joined[all->joined_count++] = now->chosen[i];
}

void review_make(const Context *now, const Case *cases_now, size_t count_now,
                 const Case *then, size_t count, bool planned, Reviews *all) {
    const char *unit = NULL;
    *all = (Reviews){.item = mem_new(count, sizeof *all->item),
                     .count = count,
                     .today = now->season->today,
                     .ignored = now->question->ignore_plan,
                     .begun = true,
                     .over = true,
                     .one_unit = true};
    find_joined(now, then, count, all);
    for (size_t i = 0; i < count; i++) {
        Review *r = &all->item[i];
        r->planned = planned;
        review_one(now, &then[i],
                   case_of(cases_now, count_now, then[i].athlete), r);
        all->begun = all->begun && r->event &&
                     (r->event->start <= all->today || r->measured || r->late);
        all->over = all->over && r->event &&
                    (r->event->start + r->event->days <= all->today ||
                     r->measured || r->late);
        if (unit && r->unit && !text_same(unit, r->unit))
            all->one_unit = false;
        unit = r->unit ? r->unit : unit;
    }
}

void review_free(Reviews *all) {
    for (size_t i = 0; i < all->count; i++)
        free(all->item[i].week);
    free(all->item);
    free(all->joined);
}

double review_share(const Review *r) {
    return r->total[0] > 0 ? r->total[1] / r->total[0] : NAN;
}

bool review_foretold(const Review *r) {
    return isfinite(r->forecast) && !r->vague;
}

bool review_inside(const Review *r) {
    return r->measured && r->outcome >= r->low && r->outcome <= r->high;
}
