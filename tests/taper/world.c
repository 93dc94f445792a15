/* world: see world.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "world.h"
#include "test.h"

#include "season/season.h"
#include "season/usual.h"
#include "taper/option.h"
#include "taper/outlook.h"

#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>

bool chance(gsl_rng *rng, double p) {
    return gsl_rng_uniform(rng) < p;
}

const Date world_start = 20515; /* 2026-03-03, a Tuesday */

static void add_session(World *w, Date date, int minute, double load) {
    Season *s = &w->season;
    w->sessions[s->session_count++] =
        (Session){.date = date, .minute = minute, .load = load};
}

/* The first and the last day have a session. */
static void random_log(gsl_rng *rng, World *w, bool timed) {
    int days = test_whole(rng, 8, 90);
    for (int day = 0; day < days; day++) {
        int count = test_whole(rng, 0, 2), minute = test_whole(rng, 360, 700);
        if (count == 0 && (day == 0 || day == days - 1))
            count = 1;
        for (int i = 0; i < count; i++, minute += test_whole(rng, 60, 500))
            add_session(w, world_start + day,
                        timed && chance(rng, .8) ? minute : -1,
                        chance(rng, .1) ? 0 : test_between(rng, 20, 950));
    }
    w->season.first = world_start;
    w->season.last = world_start + days - 1;
    w->season.today =
        w->season.last + (chance(rng, .7) ? 0 : test_whole(rng, 1, 5));
}

static WeekRow *add_row(World *w, int weekday, Date date, double load) {
    size_t at = w->season.week_count++;
    snprintf(w->names[at], sizeof w->names[at], "S%zu", at);
    w->week[at] = (WeekRow){.weekday = weekday,
                            .date = date,
                            .session = w->names[at],
                            .athlete = NAMES_NONE,
                            .kind = KIND_SKILL,
                            .least_minutes = NAN,
                            .minutes = NAN,
                            .rpe = NAN,
                            .load = load};
    return &w->week[at];
}

/* Up to two sessions a weekday, on Wednesdays one at least; sometimes other
 * ones on one date. */
static void random_week(gsl_rng *rng, World *w) {
    Date date = w->season.today + test_whole(rng, 1, 20);
    for (int day = 0; day < 7; day++)
        for (int i = test_whole(rng, day == 2, 2); i > 0; i--)
            add_row(w, day, DATE_NONE, test_between(rng, 30, 900))->keep =
                chance(rng, .25);
    if (chance(rng, .3))
        add_row(w, -1, date, test_between(rng, 30, 900));
    if (chance(rng, .2))
        add_row(w, -1, date + 1, 0)->off = true;
}

static void add_event(gsl_rng *rng, World *w, Date start, int days,
                      bool timed) {
    static char name[] = "Cup";
    w->events[w->season.event_count++] = (Event){
        .name = name,
        .start = start,
        .days = days,
        .weight = 1,
        .athlete = NAMES_NONE,
        .load_per_day = test_between(rng, 0, 1500),
        .minute = timed && chance(rng, .7) ? test_whole(rng, 420, 1200) : -1};
}

/* The event, and sometimes another one before it. */
static void random_events(gsl_rng *rng, World *w, bool timed) {
    int ahead = test_whole(rng, 2, 40), days = test_whole(rng, 1, 3);
    if (ahead > days + 1 && chance(rng, .3))
        add_event(rng, w, w->season.today + test_whole(rng, 1, ahead - days),
                  days, timed);
    add_event(rng, w, w->season.today + ahead, test_whole(rng, 1, 4), timed);
    w->event = &w->events[w->season.event_count - 1];
}

ResponseParams random_params(gsl_rng *rng) {
    double tau2 = test_between(rng, 4, 22), k1 = test_between(rng, .03, 1.5);
    return (ResponseParams){
        RESPONSE_TWO_COMPONENT,
        {test_between(rng, -300, 900), k1, k1 * test_between(rng, .9, 3),
         tau2 * test_between(rng, 1.4, 4), tau2, NAN, NAN, NAN}};
}

ResponseParams random_kind(gsl_rng *rng) {
    ResponseParams p = random_params(rng);
    double *v = p.value;
    int kind = test_whole(rng, 0, 6);
    if (kind == 0) {
        p.kind = RESPONSE_DELAYED;
        v[PARAM_TAU_RISE] = v[PARAM_TAU1] * test_between(rng, .05, .6);
    }
    if (kind == 1 || kind == 2) {
        p.kind = RESPONSE_VARIABLE_DOSE;
        v[PARAM_K3] = v[PARAM_K1] * test_between(rng, 2e-4, 2e-3);
        v[PARAM_TAU3] = test_between(rng, 1, 6);
        v[PARAM_K2] = NAN;
    }
    if (kind == 3) {
        p.kind = RESPONSE_GRADED;
        v[PARAM_RATIO] = v[PARAM_K2] / v[PARAM_K1];
        v[PARAM_GROWTH] = test_between(rng, 0, 1);
        v[PARAM_TAU3] = test_between(rng, 1, 6);
        response_settle(&p, test_between(rng, 100, 600));
    }
    return p;
}

void world_open(World *w) {
    Season *s = &w->season;
    static char folder[] = "nowhere";
    w->athlete.name = folder;
    w->athlete.sessions = w->sessions;
    w->athlete.session_count = s->session_count;
    s->folder = folder;
    s->athletes = &w->athlete;
    s->athlete_count = 1;
    s->sessions = w->sessions;
    s->events = w->events;
    s->week = w->week;
    s->exercises = w->exercises;
    w->event = &w->events[s->event_count - 1];
    daily_build(s, 0, false, &w->daily);
    usual_build(s, 0, &w->daily, &w->usual, &w->notes);
    outlook_build(&w->usual, &w->daily, w->event, w->before, &w->outlook);
    CU_ASSERT_EQUAL(w->notes.count, 0);
}

void world_close(World *w) {
    daily_free(&w->daily);
    usual_free(&w->usual);
    outlook_free(&w->outlook);
    notes_free(&w->notes);
}

World *random_world(gsl_rng *rng) {
    static World w;
    bool timed = chance(rng, .5);
    w = (World){.before = chance(rng, .7) ? test_between(rng, 0, 600) : 0};
    random_log(rng, &w, timed);
    random_week(rng, &w);
    random_events(rng, &w, timed);
    w.params = random_params(rng);
    world_open(&w);
    return &w;
}

World *random_window(gsl_rng *rng) {
    World *w = random_world(rng);
    while (w->outlook.window == 0) {
        world_close(w);
        w = random_world(rng);
    }
    return w;
}

/* Cuts in hundredths of a per cent, which six digits hold. */
static double random_cut(gsl_rng *rng, int most) {
    if (most == 10000 && chance(rng, .1))
        return 100;
    return chance(rng, .5) ? 5 * test_whole(rng, 0, most / 500)
                           : test_whole(rng, 0, most) / 100.0;
}

Option random_option(gsl_rng *rng, int longest) {
    Option option = {.count = test_whole(rng, 0, 4)};
    for (int k = 0; k < option.count; k++) {
        OptionPart *p = &option.part[k];
        p->days = test_whole(rng, 1, longest);
        p->fall = "x-~"[test_whole(rng, 0, 2)];
        p->from = random_cut(rng, p->fall == '~' ? 9500 : 10000);
        p->to = p->fall == 'x' ? p->from
                               : random_cut(rng, p->fall == '~' ? 9500 : 10000);
    }
    return option;
}

bool same_option(const Option *a, const Option *b) {
    bool same = a->count == b->count;
    for (int k = 0; k < a->count && same; k++) {
        const OptionPart *p = &a->part[k], *q = &b->part[k];
        same = p->days == q->days && p->from == q->from && p->to == q->to &&
               p->fall == q->fall;
    }
    return same;
}

void steady_world(World *w, double load, int ahead) {
    *w = (World){.before = load};
    for (int day = 0; day < 30; day++)
        add_session(w, world_start + day, -1, load);
    for (int day = 0; day < 7; day++)
        add_row(w, day, DATE_NONE, load);
    w->season.first = world_start;
    w->season.last = w->season.today = world_start + 29;
    w->events[0] = (Event){.name = w->names[0],
                           .start = w->season.today + ahead,
                           .days = 1,
                           .athlete = NAMES_NONE,
                           .load_per_day = 0,
                           .minute = -1};
    w->season.event_count = 1;
    world_open(w);
}
