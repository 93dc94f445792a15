/* joint: see joint.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/joint.h"

#include "base/mem.h"
#include "taper/common.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void joint_event_build(const Usual *u, const Daily *d, const Event *event,
                       double before, JointEvent *e) {
    *e = (JointEvent){0};
    outlook_build(u, d, event, before, &e->own);
    outlook_build(u, d, event, before, &e->wide);
    outlook_widen(&e->wide, u);
}

void joint_event_free(JointEvent *e) {
    score_free(&e->score);
    outlook_free(&e->own);
    outlook_free(&e->wide);
}

/* ---- cuts over all days, day by day of the outlooks ---- */

/* Days of the outlooks before the last event. */
static size_t days_of(const JointEvent *events, size_t count) {
    return events[count - 1].wide.event_day;
}

static void set_days(const JointEvent *e, const Option *option, double *day) {
    double *cut = mem_new(e->own.window, sizeof *cut);
    option_cuts(option, e->own.window, cut);
    for (size_t u = 1; u <= e->own.window; u++)
        day[e->own.event_day - u] = cut[u - 1];
    free(cut);
}

/* The same cuts as one event sees them. */
static void look_back(const JointEvent *e, const double *day, double *cut) {
    for (size_t u = 1; u <= e->wide.window; u++)
        cut[u - 1] = day[e->wide.event_day - u];
}

void joint_cuts(const JointEvent *events, size_t at, const Option *options,
                double *cut) {
    double *day = mem_new(events[at].wide.event_day, sizeof *day);
    for (size_t k = 0; k <= at; k++)
        set_days(&events[k], &options[k], day);
    look_back(&events[at], day, cut);
    free(day);
}

static bool is_event_day(const JointEvent *events, size_t count, size_t day) {
    for (size_t k = 0; k < count; k++)
        if (day >= events[k].own.event_day &&
            day < events[k].own.event_day + events[k].own.event_days)
            return true;
    return false;
}

double joint_lowest(const JointEvent *events, size_t count,
                    const Option *options, size_t *from) {
    const Outlook *o = &events[count - 1].wide;
    double *cut = mem_new(o->window, sizeof *cut), lowest = 1;
    size_t first = *from = o->event_day - o->window;
    joint_cuts(events, count - 1, options, cut);
    for (size_t at = first; at + JOINT_SPELL <= o->event_day; at++) {
        double planned = 0, gone = 0;
        for (size_t day = at; day < at + JOINT_SPELL; day++) {
            if (is_event_day(events, count, day))
                continue;
            planned += outlook_planned(o, day);
            gone += cut[o->event_day - day - 1] * o->cuttable[day];
        }
        if (planned > 0 && 1 - gone / planned < lowest) {
            lowest = 1 - gone / planned;
            *from = at;
        }
    }
    free(cut);
    return lowest;
}

double joint_readiness(const JointEvent *events, size_t at,
                       const Option *options) {
    double *cut = mem_new(events[at].wide.window, sizeof *cut), readiness;
    joint_cuts(events, at, options, cut);
    readiness = score_cuts(&events[at].score, cut);
    free(cut);
    return readiness;
}

/* ---- one window, the others as they stand ---- */

/* What a search in one window has found beside the others' cuts. */
typedef struct {
    double *day; /* [days] the others' */
    Option best, recommended;
} Known;

typedef struct {
    Search list; /* its options */
    Known *known;
    size_t count, room;
} Window;

typedef struct {
    const JointEvent *events;
    size_t count;
    const double *weight;
    const Limits *limits;
    Window *window; /* of each event */
    size_t days;    /* before the last event */
    double *day;    /* [days] cut of each */
    double *cut;    /* [days] workspace */
} Windows;

static double value_of(const Windows *s) {
    double sum = 0;
    for (size_t k = 0; k < s->count; k++) {
        if (s->weight[k] == 0)
            continue;
        look_back(&s->events[k], s->day, s->cut);
        sum += s->weight[k] * score_cuts(&s->events[k].score, s->cut);
    }
    return sum;
}

static double bend_at(const Score *s, size_t u, size_t v) {
    size_t near = u < v ? u : v, far = u < v ? v : u;
    return s->bend[(near - 1) * s->window + far - 1];
}

/* Adds what window `j` means to event `k`; its own cuts are 0 in s->day. `drop`
 * is workspace, as long as the window. */
static void add_event(const Windows *s, size_t j, size_t k, double *drop,
                      Score *into) {
    const Outlook *own = &s->events[j].own;
    const Score *score = &s->events[k].score;
    size_t apart = s->events[k].wide.event_day - own->event_day;
    double weight = s->weight[k];
    look_back(&s->events[k], s->day, s->cut);
    memcpy(drop, score->drop + apart, own->window * sizeof *drop);
    for (size_t v = 1; v <= score->window && score->bend; v++)
        for (size_t u = 1; u <= own->window && s->cut[v - 1] != 0; u++)
            drop[u - 1] += s->cut[v - 1] * bend_at(score, u + apart, v);
    for (size_t u = 1; u <= own->window; u++) {
        into->drop[u - 1] += weight * drop[u - 1];
        for (size_t v = u; v <= own->window && score->bend; v++)
            into->bend[(u - 1) * own->window + v - 1] +=
                weight * bend_at(score, u + apart, v + apart);
    }
}

/* A score of window `j`, as search_run() takes it: the weighted sum of all
 * events. */
static void combine(const Windows *s, size_t j, Score *into) {
    const Outlook *own = &s->events[j].own;
    const Score *like = &s->events[j].score;
    size_t n = own->window;
    *into = (Score){.aim = like->aim,
                    .days = 1,
                    .window = n,
                    .linear = like->linear,
                    .outlook = own};
    score_room(into);
    into->base[0] = value_of(s);
    for (size_t k = j; k < s->count; k++)
        if (s->weight[k] != 0)
            add_event(s, j, k, into->work, into);
    if (into->linear)
        score_sums(into);
}

static Known search_anew(const Windows *s, size_t j) {
    Search *list = &s->window[j].list;
    Known known = {.day = mem_new(s->days, sizeof *known.day)};
    Score score;
    memcpy(known.day, s->day, s->days * sizeof *s->day);
    combine(s, j, &score);
    search_rate(list, &score);
    known.best = list->items[list->best].option;
    known.recommended = list->items[list->recommended].option;
    score_free(&score);
    return known;
}

/* The best and the recommended taper of one window; many turns find the others
 * as they stood before. */
static void search_window(const Windows *s, size_t j, Option *best,
                          Option *recommended) {
    const Option none = {.count = 0};
    Window *w = &s->window[j];
    size_t i = 0;
    *best = *recommended = none;
    if (w->list.count == 0)
        return;
    set_days(&s->events[j], &none, s->day);
    while (i < w->count &&
           memcmp(w->known[i].day, s->day, s->days * sizeof *s->day) != 0)
        i++;
    if (i == w->count) {
        w->known = mem_grow(w->known, &w->room, i + 1, sizeof *w->known);
        w->known[w->count++] = search_anew(s, j);
    }
    *best = w->known[i].best;
    *recommended = w->known[i].recommended;
}

/* ---- all windows ---- */

static void set_all(const Windows *s, const Option *options) {
    for (size_t j = 0; j < s->count; j++)
        set_days(&s->events[j], &options[j], s->day);
}

/* In turn, each with the others as they stand, until the sum stays. A linear
 * model needs one turn, since there the windows do not touch. */
static void take_turns(const Windows *s, Option *options, Option *recommended) {
    bool linear = s->events[0].score.linear;
    double before = value_of(s);
    for (int turn = 0; turn < 50; turn++) {
        double value;
        for (size_t j = 0; j < s->count; j++) {
            search_window(s, j, &options[j], &recommended[j]);
            set_days(&s->events[j], &options[j], s->day);
        }
        value = value_of(s);
        if (linear || (turn > 0 && value <= before + 1e-12 * fabs(before)))
            break;
        before = value;
    }
}

/* Where the turns start: no cuts; as much as may be cut before each event; the
 * same before one event only. */
static void set_start(const Windows *s, size_t start, Option *options) {
    for (size_t j = 0; j < s->count; j++) {
        int days = s->limits->max_length;
        double cut = s->limits->max_cut;
        options[j] = (Option){.count = 0};
        if (start == 1 || start == j + 2)
            options[j] = (Option){.count = 1, .part = {{days, cut, cut, 'x'}}};
    }
    set_all(s, options);
}

static void from_all_starts(const Windows *s, Joint *joint) {
    Option *options = mem_new(s->count, sizeof *options);
    double highest = -INFINITY;
    size_t starts = s->events[0].score.linear ? 1 : s->count + 2;
    for (size_t start = 0; start < starts; start++) {
        double value;
        set_start(s, start, options);
        take_turns(s, options, joint->recommended);
        value = value_of(s);
        if (value > highest) {
            highest = value;
            memcpy(joint->best, options, s->count * sizeof *options);
        }
    }
    free(options);
}

/* Where windows touch, each recommendation has to stand beside the others. */
static void recommend(const Windows *s, Joint *joint) {
    set_all(s, joint->best);
    for (size_t j = 0; j < s->count; j++) {
        Option best;
        search_window(s, j, &best, &joint->recommended[j]);
        set_days(&s->events[j], &joint->recommended[j], s->day);
    }
}

/* The taper of one window where nothing is known. */
static Option gentle(const Window *w) {
    size_t count = w->list.count;
    Option *option = mem_new(count, sizeof *option);
    double *gain = mem_new(count, sizeof *gain);
    CommonTask task = {.athletes = 1,
                       .options = count,
                       .option = option,
                       .gain = (const double *const[]){gain},
                       .rule = COMMON_UNKNOWN};
    Option found = {.count = 0};
    Common common;
    for (size_t i = 0; i < count; i++)
        option[i] = w->list.items[i].option;
    if (count > 0) {
        common_find(&task, &common);
        found = option[common.option[0]];
        common_free(&common);
    }
    free(option);
    free(gain);
    return found;
}

static void without_weights(const Windows *s, Joint *joint) {
    for (size_t j = 0; j < s->count; j++)
        if (s->events[j].own.may_go > 0)
            joint->best[j] = joint->recommended[j] = gentle(&s->window[j]);
}

/* The options of each window that has days. */
static StatusCode list_all(const Windows *s, Status *status) {
    StatusCode code = STATUS_OK;
    for (size_t j = 0; j < s->count && code == STATUS_OK; j++)
        if (s->events[j].own.window > 0)
            code = search_list(&s->events[j].own, s->limits, &s->window[j].list,
                               status);
    return code;
}

static void window_free(Window *w) {
    for (size_t i = 0; i < w->count; i++)
        free(w->known[i].day);
    free(w->known);
    search_free(&w->list);
}

static void begin(const JointEvent *events, size_t count, const double *weight,
                  const Limits *limits, Windows *s) {
    *s = (Windows){.events = events,
                   .count = count,
                   .weight = weight,
                   .limits = limits,
                   .days = days_of(events, count)};
    assert(count > 0 && events[0].score.days == 1);
    s->day = mem_new(s->days, sizeof *s->day);
    s->cut = mem_new(s->days, sizeof *s->cut);
    s->window = mem_new(count, sizeof *s->window);
}

static void end(Windows *s) {
    for (size_t j = 0; j < s->count; j++)
        window_free(&s->window[j]);
    free(s->window);
    free(s->day);
    free(s->cut);
}

StatusCode joint_list(const JointEvent *events, size_t count,
                      const double *weight, const Limits *limits,
                      const Option *options, size_t at, Search *list,
                      Status *status) {
    const Option none = {.count = 0};
    const Outlook *own = &events[at].own;
    Windows s;
    Score score;
    StatusCode code = STATUS_OK;
    *list = (Search){0};
    if (own->window > 0)
        code = search_list(own, limits, list, status);
    if (code != STATUS_OK || own->window == 0 || !weight)
        return code;
    begin(events, count, weight, limits, &s);
    set_all(&s, options);
    set_days(&events[at], &none, s.day);
    combine(&s, at, &score);
    search_rate(list, &score);
    score_free(&score);
    end(&s);
    return code;
}

StatusCode joint_run(const JointEvent *events, size_t count,
                     const double *weight, const Limits *limits, Joint *joint,
                     Status *status) {
    Windows s;
    StatusCode code;
    begin(events, count, weight, limits, &s);
    *joint = (Joint){.count = count};
    joint->best = mem_new(count, sizeof *joint->best);
    joint->recommended = mem_new(count, sizeof *joint->recommended);
    code = list_all(&s, status);
    if (code == STATUS_OK && !weight)
        without_weights(&s, joint);
    else if (code == STATUS_OK)
        from_all_starts(&s, joint);
    if (code == STATUS_OK && weight && !events[0].score.linear)
        recommend(&s, joint);
    end(&s);
    return code;
}

void joint_free(Joint *joint) {
    free(joint->best);
    free(joint->recommended);
    *joint = (Joint){0};
}
