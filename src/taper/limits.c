/* limits: see limits.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/limits.h"

#include "season/season.h"
#include "taper/option.h"

#include <math.h>

enum {
    ALL_SHAPES = 1u << SHAPE_STEP | 1u << SHAPE_LINEAR |
                 1u << SHAPE_EXPONENTIAL | 1u << SHAPE_TWO_STEP |
                 1u << SHAPE_REST,
    GRADUAL = 1u << SHAPE_LINEAR | 1u << SHAPE_EXPONENTIAL |
              1u << SHAPE_TWO_STEP /* two days at least */
};

Limits limits_default(void) {
    return (Limits){.max_length = 28,
                    .max_cut = 75,
                    .shapes = ALL_SHAPES,
                    .rest_days = 3,
                    .max_day_rise = INFINITY,
                    .max_week_rise = INFINITY};
}

bool limits_given(const Limits *l, LimitName name) {
    Limits usual = limits_default();
    switch (name) {
    case LIMIT_SESSIONS:
        return l->min_sessions > 0;
    case LIMIT_DAY_RISE:
        return isfinite(l->max_day_rise);
    case LIMIT_WEEK_RISE:
        return isfinite(l->max_week_rise);
    case LIMIT_WEEK_LOAD:
        return l->min_week_load > 0;
    case LIMIT_NO_GYM:
        return l->no_gym > 0;
    case LIMIT_CUT_KINDS:
        return l->cut_kinds != 0;
    case LIMIT_SHAPES:
        return l->shapes != usual.shapes;
    case LIMIT_REST_DAYS:
        return l->rest_days != usual.rest_days;
    case LIMIT_LENGTH:
        return l->max_length != usual.max_length;
    case LIMIT_BUILD_UP:
        return l->build_up > 0;
    default:
        return l->max_cut != usual.max_cut;
    }
}

void limits_lift(Limits *l, LimitName name) {
    Limits none = limits_default();
    switch (name) {
    case LIMIT_SESSIONS:
        l->min_sessions = 0;
        break;
    case LIMIT_DAY_RISE:
        l->max_day_rise = none.max_day_rise;
        break;
    case LIMIT_WEEK_RISE:
        l->max_week_rise = none.max_week_rise;
        break;
    case LIMIT_WEEK_LOAD:
        l->min_week_load = 0;
        break;
    case LIMIT_NO_GYM:
        l->no_gym = 0;
        break;
    case LIMIT_CUT_KINDS:
        l->cut_kinds = 0;
        break;
    case LIMIT_SHAPES:
        l->shapes = none.shapes;
        break;
    case LIMIT_REST_DAYS:
        l->rest_days = 14;
        break;
    case LIMIT_LENGTH:
        l->max_length = 60;
        break;
    case LIMIT_BUILD_UP:
        break;
    default:
        l->max_cut = 100;
    }
}

/* "gym,conditioning" or "gym, conditioning": names whose bit is set. */
static void add_names(unsigned bits, const char *const *names,
                      const char *between, Text *text) {
    bool first = true;
    for (int i = 0; names[i]; i++) {
        if (!(bits & 1u << i))
            continue;
        text_add(text, "%s%s", first ? "" : between, names[i]);
        first = false;
    }
}

void limits_option(const Limits *l, LimitName name, Text *text) {
    static const char *const options[] = {
        "min-sessions", "max-day-rise", "max-week-rise", "min-week-load",
        "no-gym",       "cut-kinds",    "shapes",        "rest-days",
        "max-length",   "max-cut",      "build-up"};
    const double values[] = {l->min_sessions,
                             l->max_day_rise,
                             l->max_week_rise,
                             l->min_week_load,
                             l->no_gym,
                             0,
                             0,
                             l->rest_days,
                             l->max_length,
                             l->max_cut,
                             l->build_up};
    text_add(text, "--%s ", options[name]);
    if (name == LIMIT_CUT_KINDS)
        add_names(l->cut_kinds, session_kind_names, ",", text);
    else if (name == LIMIT_SHAPES)
        add_names(l->shapes, shape_names, ",", text);
    else
        text_add(text, "%.6g", values[name]);
}

void limits_words(const Limits *l, LimitName name, Text *text) {
    switch (name) {
    case LIMIT_SESSIONS:
        text_add(text, "each week keeps at least %d session%s", l->min_sessions,
                 l->min_sessions == 1 ? "" : "s");
        break;
    case LIMIT_DAY_RISE:
        text_add(text,
                 "no day's load is more than %.6g above that of the day before",
                 l->max_day_rise);
        break;
    case LIMIT_WEEK_RISE:
        text_add(text,
                 "no week's load is more than %.4g %% above that of the week "
                 "before",
                 l->max_week_rise);
        break;
    case LIMIT_WEEK_LOAD:
        text_add(text, "each week keeps at least %.4g %% of its load",
                 l->min_week_load);
        break;
    case LIMIT_NO_GYM:
        text_add(text, "no gym on the last %s", l->no_gym == 1 ? "day" : "");
        if (l->no_gym != 1)
            text_add(text, "%d days", l->no_gym);
        break;
    case LIMIT_CUT_KINDS:
        text_add(text, "only these kinds are cut: ");
        add_names(l->cut_kinds, session_kind_names, ", ", text);
        break;
    default:
        break;
    }
}

/* "--a 1 and --b 2 contradict each other: REASON". */
static bool name_both(const Limits *l, LimitName a, LimitName b,
                      const char *reason, Text *why) {
    limits_option(l, a, why);
    text_add(why, " and ");
    limits_option(l, b, why);
    text_add(why, " contradict each other: %s", reason);
    return true;
}

bool limits_contradict(const Limits *l, Text *why) {
    bool resting = l->shapes & 1u << SHAPE_REST;
    if (l->min_week_load >= 100)
        return name_both(l, LIMIT_WEEK_LOAD, LIMIT_CUT,
                         "a week that keeps all its load leaves nothing to "
                         "cut; expected less than 100",
                         why);
    if (l->shapes == 1u << SHAPE_REST && l->rest_days == 0)
        return name_both(l, LIMIT_SHAPES, LIMIT_REST_DAYS,
                         "only rest is searched and no day may rest; expected "
                         "another shape, or a day of rest",
                         why);
    if (l->max_cut <= 0 && (!resting || l->rest_days == 0))
        return name_both(l, LIMIT_CUT, resting ? LIMIT_REST_DAYS : LIMIT_SHAPES,
                         "no day may be cut and none may rest; expected a "
                         "larger cut, or the shape rest with a day of it",
                         why);
    if (l->max_length < 2 && !(l->shapes & ~(unsigned)GRADUAL))
        return name_both(l, LIMIT_LENGTH, LIMIT_SHAPES,
                         "these shapes take two days at least; expected a "
                         "longer taper, or the shapes step or rest",
                         why);
    if (l->cut_kinds == 1u << KIND_GYM && l->no_gym >= l->max_length)
        return name_both(l, LIMIT_CUT_KINDS, LIMIT_NO_GYM,
                         "there is no gym left to cut on the days searched; "
                         "expected fewer days without gym, or more kinds",
                         why);
    return false;
}
