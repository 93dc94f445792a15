/* rules: see rules.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/rules.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static const double leeway = 1e-9; /* of a rule, whose terms are about 1 */

/* ---- loads of days, however far back ---- */

/* Before the log the steady training that is assumed. */
static double planned(const Outlook *o, size_t u) {
    return u > o->event_day ? o->timeline.before
                            : outlook_planned(o, o->event_day - u);
}

static double cuttable(const Rules *r, size_t u) {
    const Outlook *o = r->outlook;
    return u <= r->length ? o->cuttable[o->event_day - u] : 0;
}

static double day_after(const Rules *r, const double *cut, size_t u) {
    double load = planned(r->outlook, u);
    return u <= r->length ? load - cut[u - 1] * cuttable(r, u) : load;
}

static double week_after(const Rules *r, const double *cut, size_t near) {
    double sum = 0;
    for (size_t u = near; u < near + 7; u++)
        sum += day_after(r, cut, u);
    return sum;
}

static double week_planned(const Rules *r, size_t near) {
    double sum = 0;
    for (size_t u = near; u < near + 7; u++)
        sum += planned(r->outlook, u);
    return sum;
}

/* Of a block's planned load that part which lies after today and after any
 * other event. */
static double week_to_come(const Rules *r, size_t near) {
    double sum = 0;
    for (size_t u = near; u < near + 7 && u <= r->outlook->window; u++)
        sum += planned(r->outlook, u);
    return sum;
}

/* ---- inequalities ---- */

/* The next row's coefficients, all 0. */
static double *new_row(Rules *r) {
    return r->block + r->count * r->length;
}

/* Takes up the row, unless no cuts could ever break it. */
static void end_row(Rules *r, LimitName limit, size_t near, double most) {
    double *by = new_row(r), scale = 1e-3 * r->size, highest = 0;
    for (size_t i = 0; i < r->length; i++) {
        scale = fmax(scale, fabs(by[i]));
        highest += fmax(by[i] * r->least[i], by[i] * r->most[i]);
    }
    if (highest <= most + leeway * scale) {
        for (size_t i = 0; i < r->length; i++)
            by[i] = 0;
        return;
    }
    for (size_t i = 0; i < r->length; i++)
        by[i] /= scale;
    r->rules[r->count++] = (Rule){limit, near, most / scale, by};
}

static void add_week_load(Rules *r, size_t near) {
    double *by = new_row(r);
    for (size_t u = near; u < near + 7 && u <= r->length; u++)
        by[u - 1] = cuttable(r, u);
    end_row(r, LIMIT_WEEK_LOAD, near,
            week_to_come(r, near) * (1 - r->limits->min_week_load / 100));
}

static void add_day_rise(Rules *r, size_t u) {
    double *by = new_row(r);
    by[u - 1] = -cuttable(r, u);
    if (u < r->length)
        by[u] = cuttable(r, u + 1);
    end_row(r, LIMIT_DAY_RISE, u,
            r->limits->max_day_rise + planned(r->outlook, u + 1) -
                planned(r->outlook, u));
}

static void add_week_rise(Rules *r, size_t near) {
    double *by = new_row(r), factor = 1 + r->limits->max_week_rise / 100;
    for (size_t u = near; u < near + 7; u++) {
        if (u <= r->length)
            by[u - 1] = -cuttable(r, u);
        if (u + 7 <= r->length)
            by[u + 6] = factor * cuttable(r, u + 7);
    }
    end_row(r, LIMIT_WEEK_RISE, near,
            factor * week_planned(r, near + 7) - week_planned(r, near));
}

static void add_rules(Rules *r) {
    for (size_t near = 1; near <= r->length; near += 7) {
        if (r->limits->min_week_load > 0)
            add_week_load(r, near);
        if (isfinite(r->limits->max_week_rise))
            add_week_rise(r, near);
    }
    for (size_t u = 1; u <= r->length && isfinite(r->limits->max_day_rise); u++)
        add_day_rise(r, u);
}

/* ---- sessions ---- */

static int week_sessions(const Rules *r, size_t near) {
    const Outlook *o = r->outlook;
    int sum = 0;
    for (size_t u = near; u < near + 7 && u <= o->event_day; u++)
        sum += o->sessions[o->event_day - u];
    return sum;
}

static void count_sessions(Rules *r) {
    r->counted = r->limits->min_sessions > 0;
    r->weeks = (r->length + 6) / 7;
    r->spare = mem_new(r->weeks, sizeof *r->spare);
    for (size_t w = 0; w < r->weeks; w++) {
        r->spare[w] = week_sessions(r, 7 * w + 1) - r->limits->min_sessions;
        if (7 * w + 7 > r->outlook->window && r->spare[w] < 0)
            r->spare[w] = 0;
    }
}

int rules_sessions(const Rules *r, size_t u) {
    size_t day = r->outlook->event_day - u;
    return r->outlook->sessions[day] - r->outlook->kept[day];
}

/* Sessions that go from a block. */
static int gone(const Rules *r, const double *cut, size_t week) {
    int sum = 0;
    for (size_t u = 7 * week + 1; u <= 7 * week + 7 && u <= r->length; u++)
        if (cut[u - 1] > r->session_cut + leeway)
            sum += rules_sessions(r, u);
    return sum;
}

/* ---- all ---- */

static double day_most(const Limits *l, size_t u) {
    bool rest = l->shapes & 1u << SHAPE_REST && u <= (size_t)l->rest_days;
    if (u > (size_t)l->max_length)
        return 0;
    return rest ? 1 : l->max_cut / 100;
}

void rules_build(const Outlook *o, const Limits *limits, Rules *r) {
    *r = (Rules){.outlook = o,
                 .limits = limits,
                 .length = (size_t)limits->max_length +
                           (limits->build_up > 0 ? BUILD_UP_LONGEST : 0),
                 .session_cut = fmin(.95, limits->max_cut / 100)};
    if (r->length > o->window)
        r->length = o->window;
    r->most = mem_new(r->length, sizeof *r->most);
    r->least = mem_new(r->length, sizeof *r->least);
    for (size_t u = 1; u <= r->length; u++) {
        r->most[u - 1] = day_most(limits, u);
        r->least[u - 1] = 0 - limits->build_up / 100;
    }
    for (size_t u = 1; u <= r->length + 14; u++)
        r->size = fmax(r->size, planned(o, u));
    /* a row each day, and two each week */
    r->rules = mem_new(2 * r->length + 2, sizeof *r->rules);
    r->block = mem_new((2 * r->length + 2) * r->length, sizeof *r->block);
    if (r->size > 0) /* else there is nothing to cut and nothing that rises */
        add_rules(r);
    count_sessions(r);
}

void rules_free(Rules *r) {
    free(r->most);
    free(r->least);
    free(r->rules);
    free(r->block);
    free(r->spare);
    *r = (Rules){0};
}

static bool holds(const Rules *r, const Rule *rule, const double *cut) {
    double sum = 0;
    for (size_t i = 0; i < r->length; i++)
        sum += rule->by[i] * cut[i];
    return sum <= rule->most + leeway;
}

bool rules_hold(const Rules *r, const double *cut) {
    for (size_t i = 0; i < r->count; i++)
        if (!holds(r, &r->rules[i], cut))
            return false;
    for (size_t w = 0; w < r->weeks && r->counted; w++)
        if (gone(r, cut, w) > r->spare[w])
            return false;
    return true;
}

/* ---- words ---- */

static void add_week(const Rules *r, size_t near, Text *text) {
    char day[DATE_TEXT];
    Date first =
        r->outlook->first + (Date)r->outlook->event_day - (Date)(near + 6);
    text_add(text, "the seven days from %s ", date_write_short(day, first));
}

static void say_day_rise(const Rules *r, const double *cut, size_t u,
                         Text *text) {
    char day[DATE_TEXT];
    Date date = r->outlook->first + (Date)r->outlook->event_day - (Date)u;
    text_add(text, "%s has a load %.4g above the day before",
             date_write_short(day, date),
             day_after(r, cut, u) - day_after(r, cut, u + 1));
}

static void say_week_rise(const Rules *r, const double *cut, size_t near,
                          Text *text) {
    double before = week_after(r, cut, near + 7);
    add_week(r, near, text);
    if (before > 0)
        text_add(text, "have %.3g %% more load than the seven before",
                 100 * (week_after(r, cut, near) / before - 1));
    else
        text_add(text, "follow seven without load");
}

static void say_rule(const Rules *r, const double *cut, const Rule *rule,
                     Text *text) {
    if (rule->limit == LIMIT_DAY_RISE) {
        say_day_rise(r, cut, rule->near, text);
    } else if (rule->limit == LIMIT_WEEK_RISE) {
        say_week_rise(r, cut, rule->near, text);
    } else {
        double load = week_to_come(r, rule->near), left = load;
        for (size_t u = rule->near; u < rule->near + 7 && u <= r->length; u++)
            left -= cut[u - 1] * cuttable(r, u);
        add_week(r, rule->near, text);
        text_add(text, "keep %.3g %% of their load", 100 * left / load);
    }
}

bool rules_broken(const Rules *r, const double *cut, LimitName *limit,
                  Text *text) {
    for (size_t w = 0; w < r->weeks && r->counted; w++) {
        int left = week_sessions(r, 7 * w + 1) - gone(r, cut, w);
        if (gone(r, cut, w) <= r->spare[w])
            continue;
        *limit = LIMIT_SESSIONS;
        add_week(r, 7 * w + 1, text);
        text_add(text, "have %d session%s", left, left == 1 ? "" : "s");
        return true;
    }
    for (size_t i = 0; i < r->count; i++)
        if (!holds(r, &r->rules[i], cut)) {
            *limit = r->rules[i].limit;
            say_rule(r, cut, &r->rules[i], text);
            return true;
        }
    return false;
}
