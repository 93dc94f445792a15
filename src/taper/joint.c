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
    e->wide = e->own; /* but for the window */
    outlook_widen(&e->wide, u);
}

void joint_event_free(JointEvent *e) {
    score_free(&e->score);
    outlook_free(&e->own);
}

/* ---- cuts over all days before the last event ---- */

/* How many days event `k` lies before the last one. */
static size_t days_before(const JointEvent *events, size_t count, size_t k) {
    return events[count - 1].wide.event_day - events[k].wide.event_day;
}

static void set_window(const JointEvent *events, size_t count, size_t k,
                       const Option *option, double *cut) {
    option_cuts(option, events[k].own.window,
                cut + days_before(events, count, k));
}

void joint_cuts(const JointEvent *events, size_t at, const Option *options,
                double *cut) {
    for (size_t u = 0; u < events[at].wide.window; u++)
        cut[u] = 0;
    for (size_t k = 0; k <= at; k++)
        set_window(events, at + 1, k, &options[k], cut);
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
    double *cut; /* the others' */
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
    const Limits *limits;
    Window *window; /* of each event */
    Score sum;      /* weighted, of all events, as the last one sees the days */
    double *cut;    /* [sum.window] */
} Windows;

static double value_of(const Windows *s) {
    return score_cuts(&s->sum, s->cut);
}

static void add_event(Windows *s, size_t k, double weight) {
    const Score *one = &s->events[k].score;
    size_t near = days_before(s->events, s->count, k), n = one->window;
    s->sum.base[0] += weight * one->base[0];
    for (size_t u = 0; u < n; u++) {
        double *bend = s->sum.bend + (near + u) * s->sum.window + near;
        s->sum.drop[near + u] += weight * one->drop[u];
        for (size_t v = u; v < n && one->bend; v++)
            bend[v] += weight * one->bend[u * n + v];
    }
}

static Score room_for(const Windows *s, const Outlook *o) {
    Score score = {.aim = s->events[0].score.aim,
                   .days = 1,
                   .window = o->window,
                   .linear = s->events[0].score.linear,
                   .outlook = o};
    score_room(&score);
    return score;
}

static void weigh(Windows *s, const double *weight) {
    assert(s->events[0].score.days == 1);
    s->sum = room_for(s, &s->events[s->count - 1].wide);
    for (size_t k = 0; k < s->count; k++)
        if (weight[k] != 0)
            add_event(s, k, weight[k]);
    s->cut = mem_new(s->sum.window, sizeof *s->cut);
}

/* Adds to the drops of `n` days, the first of which is `near`, what the others'
 * cuts make of them; those of the days themselves are 0. */
static void bend_drops(const Windows *s, size_t near, size_t n, double *drop) {
    const double *cut = s->cut, *bend = s->sum.bend;
    size_t w = s->sum.window;
    for (size_t v = 0; v < near; v++)
        for (size_t u = 0; u < n && cut[v] != 0; u++)
            drop[u] += cut[v] * bend[v * w + near + u];
    for (size_t u = 0; u < n; u++)
        for (size_t v = near + n; v < w; v++)
            drop[u] += cut[v] * bend[(near + u) * w + v];
}

/* What is weighed as a score of window `j`, whose own cuts are 0 in s->cut, as
 * search_rate() takes it. */
static void look_at(const Windows *s, size_t j, Score *into) {
    size_t near = days_before(s->events, s->count, j);
    size_t n = s->events[j].own.window, w = s->sum.window;
    *into = room_for(s, &s->events[j].own);
    into->base[0] = value_of(s);
    memcpy(into->drop, s->sum.drop + near, n * sizeof *into->drop);
    if (into->linear) {
        score_sums(into);
        return;
    }
    bend_drops(s, near, n, into->drop);
    for (size_t u = 0; u < n; u++)
        memcpy(into->bend + u * n, s->sum.bend + (near + u) * w + near,
               n * sizeof *into->bend);
}

static Known search_anew(const Windows *s, size_t j) {
    Search *list = &s->window[j].list;
    size_t days = s->sum.window;
    Known known = {.cut = mem_new(days, sizeof *known.cut)};
    Score score;
    memcpy(known.cut, s->cut, days * sizeof *s->cut);
    look_at(s, j, &score);
    search_rate(list, &score);
    known.best = list->items[list->best].option;
    known.recommended = list->items[list->recommended].option;
    score_free(&score);
    return known;
}

static void set_cuts(const Windows *s, size_t j, const Option *option) {
    set_window(s->events, s->count, j, option, s->cut);
}

/* The best and the recommended taper of one window; many turns find the others
 * as they stood before. */
static void search_window(const Windows *s, size_t j, Option *best,
                          Option *recommended) {
    const Option none = {.count = 0};
    size_t days = s->sum.window, i = 0;
    Window *w = &s->window[j];
    *best = *recommended = none;
    if (w->list.count == 0)
        return;
    set_cuts(s, j, &none);
    while (i < w->count &&
           memcmp(w->known[i].cut, s->cut, days * sizeof *s->cut) != 0)
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
        set_cuts(s, j, &options[j]);
}

/* In turn, each with the others as they stand, until the sum stays. A linear
 * model needs one turn, since there the windows do not touch. */
static void take_turns(const Windows *s, Option *options, Option *recommended) {
    bool linear = s->sum.linear;
    double before = value_of(s);
    for (int turn = 0; turn < 50; turn++) {
        double value;
        for (size_t j = 0; j < s->count; j++) {
            search_window(s, j, &options[j], &recommended[j]);
            set_cuts(s, j, &options[j]);
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
    size_t starts = s->sum.linear ? 1 : s->count + 2;
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
        set_cuts(s, j, &joint->recommended[j]);
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

static void forget(Windows *s) {
    for (size_t j = 0; j < s->count; j++) {
        Window *w = &s->window[j];
        for (size_t i = 0; i < w->count; i++)
            free(w->known[i].cut);
        w->count = 0;
    }
    score_free(&s->sum);
    free(s->cut);
}

static Windows begin(const JointEvent *events, size_t count,
                     const Limits *limits) {
    assert(count > 0);
    return (Windows){.events = events,
                     .count = count,
                     .limits = limits,
                     .window = mem_new(count, sizeof(Window))};
}

static void end(Windows *s) {
    for (size_t j = 0; j < s->count; j++) {
        free(s->window[j].known);
        search_free(&s->window[j].list);
    }
    free(s->window);
}

StatusCode joint_lists(const JointEvent *events, size_t count,
                       const double *weight, const Limits *limits,
                       const Option *options, Search *lists, Status *status) {
    const Option none = {.count = 0};
    Windows s = begin(events, count, limits);
    StatusCode code = list_all(&s, status);
    if (code == STATUS_OK && weight) {
        weigh(&s, weight);
        set_all(&s, options);
    }
    for (size_t j = 0; j < count && code == STATUS_OK; j++) {
        Score score;
        lists[j] = s.window[j].list;
        s.window[j].list = (Search){0};
        if (!weight || lists[j].count == 0)
            continue;
        set_cuts(&s, j, &none);
        look_at(&s, j, &score);
        search_rate(&lists[j], &score);
        score_free(&score);
        set_cuts(&s, j, &options[j]);
    }
    forget(&s);
    end(&s);
    return code;
}

/* Of the windows listed. */
static void run(Windows *s, const double *weight, Joint *joint) {
    *joint = (Joint){.count = s->count};
    joint->best = mem_new(s->count, sizeof *joint->best);
    joint->recommended = mem_new(s->count, sizeof *joint->recommended);
    if (!weight) {
        without_weights(s, joint);
        return;
    }
    weigh(s, weight);
    from_all_starts(s, joint);
    if (!s->sum.linear)
        recommend(s, joint);
    forget(s);
}

StatusCode joint_run(const JointEvent *events, size_t count,
                     const double *weight, const Limits *limits, Joint *joint,
                     Status *status) {
    Windows s = begin(events, count, limits);
    StatusCode code = list_all(&s, status);
    *joint = (Joint){0};
    if (code == STATUS_OK)
        run(&s, weight, joint);
    end(&s);
    return code;
}

StatusCode joint_run_alone(const JointEvent *events, size_t count,
                           const Limits *limits, Joint *joints,
                           Status *status) {
    Windows s = begin(events, count, limits);
    StatusCode code = list_all(&s, status);
    double *weight = mem_new(count, sizeof *weight);
    for (size_t k = 0; k < count && code == STATUS_OK; k++) {
        weight[k] = 1;
        s.count = k + 1;
        run(&s, weight, &joints[k]);
        weight[k] = 0;
    }
    s.count = count;
    free(weight);
    end(&s);
    return code;
}

void joint_free(Joint *joint) {
    free(joint->best);
    free(joint->recommended);
    *joint = (Joint){0};
}
