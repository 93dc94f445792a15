/* hunt: see hunt.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "hunt.h"
#include "reckoned.h"
#include "test.h"
#include "world.h"

#include "season/season.h"
#include "taper/option.h"
#include "taper/score.h"
#include "taper/search.h"

#include <gsl/gsl_rng.h>
#include <math.h>

Limits random_limits(gsl_rng *rng) {
    static const double cuts[] = {25, 40, 60, 75, 80, 100};
    Limits limits = limits_default();
    limits.max_length = test_whole(rng, 1, 22);
    limits.max_cut = cuts[test_whole(rng, 0, 5)];
    limits.shapes = (unsigned)test_whole(rng, 1, 31) << SHAPE_STEP;
    limits.rest_days = test_whole(rng, 0, 6);
    if (chance(rng, .3))
        limits.max_cut = test_whole(rng, 300, 10000) / 100.0;
    if (chance(rng, .4))
        limits.min_week_load = test_whole(rng, 10, 100);
    if (chance(rng, .25))
        limits.min_sessions = test_whole(rng, 1, 9);
    return limits;
}

void random_rises(gsl_rng *rng, Limits *limits) {
    if (chance(rng, .4))
        limits->max_day_rise = test_between(rng, 100, 1500);
    if (chance(rng, .4))
        limits->max_week_rise = test_whole(rng, 1, 80);
}

void hunt_free(Hunt *h) {
    search_free(&h->search);
    score_free(&h->score);
}

bool hunt_try(Hunt *h, Aim aim) {
    Status status = {0};
    size_t most = (size_t)h->limits.max_length;
    bool found;
    h->length = most < h->w->outlook.window ? most : h->w->outlook.window;
    score_build(&h->w->outlook, &h->w->params, aim, &h->score);
    found = search_run(&h->w->outlook, &h->score, &h->limits, &h->search,
                       &status) == STATUS_OK;
    CU_ASSERT_EQUAL(h->search.count > 1, found);
    if (!found) {
        ASSERT_HAS(status.text, "no taper to try");
        hunt_free(h);
    }
    return found;
}

void hunt_run(Hunt *h, Aim aim) {
    CU_ASSERT_FATAL(hunt_try(h, aim));
}

void hunt_open(gsl_rng *rng, Hunt *h) {
    for (;;) {
        h->w = random_window(rng);
        h->w->params = random_kind(rng);
        h->limits = random_limits(rng);
        random_rises(rng, &h->limits);
        if (hunt_try(h, (Aim)test_whole(rng, 0, AIMS - 1)))
            return;
        world_close(h->w);
    }
}

void hunt_close(Hunt *h) {
    hunt_free(h);
    world_close(h->w);
}

double own_any_load(const World *w, Date date, const double *cut) {
    double sum = 0;
    if (date < world_start)
        return w->before;
    if (date > w->season.last)
        return own_load(w, date, cut);
    for (size_t i = 0; i < w->season.session_count; i++)
        sum += w->sessions[i].date == date ? w->sessions[i].load : 0;
    return sum;
}

int own_sessions(const World *w, Date date, bool going) {
    const WeekRow *rows[ROWS_MOST];
    int sum = 0;
    size_t count;
    if (date <= w->season.last) {
        for (size_t i = 0; i < w->season.session_count; i++)
            sum += w->sessions[i].date == date && w->sessions[i].load > 0;
        return going ? 0 : sum;
    }
    if (own_event_on(w, date))
        return going ? 0 : 1;
    count = own_rows(w, date, rows);
    for (size_t i = 0; i < count; i++)
        sum += !going || !rows[i]->keep;
    return sum;
}

double own_session_cut(const Hunt *h) {
    return h->limits.max_cut < 95 ? h->limits.max_cut / 100 : .95;
}

int own_spare(const Hunt *h, size_t from) {
    int held = -h->limits.min_sessions;
    for (size_t u = from; u < from + 7; u++)
        held += own_sessions(h->w, h->w->event->start - (Date)u, false);
    return from + 6 > own_window(h->w) && held < 0 ? 0 : held;
}

static bool own_sessions_hold(const Hunt *h, const double *cut) {
    for (size_t from = 1; from <= h->length; from += 7) {
        int gone = 0;
        for (size_t u = from; u < from + 7 && u <= h->length; u++)
            if (cut[u - 1] > own_session_cut(h) + 1e-9)
                gone += own_sessions(h->w, h->w->event->start - (Date)u, true);
        if (h->limits.min_sessions > 0 && gone > own_spare(h, from))
            return false;
    }
    return true;
}

static double own_week(const Hunt *h, const double *cut, size_t from) {
    double sum = 0;
    for (size_t u = from; u < from + 7; u++)
        sum += own_any_load(h->w, h->w->event->start - (Date)u, cut);
    return sum;
}

/* Are the rises of days and of blocks of seven days small enough? */
static bool own_rises_hold(const Hunt *h, const double *cut) {
    Date start = h->w->event->start;
    for (size_t u = 1; u <= h->length; u++)
        if (own_any_load(h->w, start - (Date)u, cut) >
            own_any_load(h->w, start - (Date)u - 1, cut) +
                h->limits.max_day_rise + 1e-6)
            return false;
    for (size_t u = 1; u <= h->length && isfinite(h->limits.max_week_rise);
         u += 7)
        if (own_week(h, cut, u) >
            own_week(h, cut, u + 7) * (1 + h->limits.max_week_rise / 100) +
                1e-6)
            return false;
    return true;
}

/* Does each block of seven days before the event keep its share? */
static bool own_weeks_hold(const Hunt *h, const double *cut) {
    size_t window = own_window(h->w);
    for (size_t from = 1; from <= window; from += 7) {
        double kept = 0, planned = 0;
        for (size_t u = from; u < from + 7 && u <= window; u++) {
            Date date = h->w->event->start - (Date)u;
            DayLoad load = own_planned(h->w, date);
            kept += own_load(h->w, date, cut);
            planned += load.cuttable + load.fixed;
        }
        if (kept < h->limits.min_week_load / 100 * planned - 1e-9 * planned)
            return false;
    }
    return true;
}

bool own_holds(const Hunt *h, const double *cut) {
    return own_weeks_hold(h, cut) && own_sessions_hold(h, cut) &&
           own_rises_hold(h, cut);
}
