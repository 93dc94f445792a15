/* search: see search.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/search.h"

#include "base/mem.h"
#include "taper/ceiling.h"
#include "taper/rules.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const tag_names[] = {"",      "best",    "recommended",
                                 "equal", "ceiling", "none"};

/* What a tour of all options carries from one to the next. */
typedef struct Tour Tour;
struct Tour {
    const Outlook *outlook;
    const Limits *limits;
    Rules rules;
    size_t length;  /* [d] days looked at, build-up and all */
    size_t longest; /* [d] longest taper: limit or window */
    double *cut;    /* [length] of the last option looked at */
    void (*take)(const Tour *tour, const Option *option);
    void *into;
};

static void tour_start(Tour *t) {
    rules_build(t->outlook, t->limits, &t->rules);
    t->length = t->rules.length;
    t->longest = (size_t)t->limits->max_length;
    if (t->longest > t->length)
        t->longest = t->length;
    t->cut = mem_new(t->length, sizeof *t->cut);
}

static bool allowed(const Tour *t, const Option *option) {
    if (t->rules.count == 0 && !t->rules.counted)
        return true;
    option_cuts(option, t->length, t->cut);
    return rules_hold(&t->rules, t->cut);
}

static void take(const Tour *t, const Option *option) {
    option_cuts(option, t->length, t->cut);
    t->take(t, option);
}

static Option one_part(int days, double from, char fall, double to) {
    return (Option){.count = 1, .part = {{days, from, to, fall}}};
}

/* An option behind a build-up, if there is one. */
static Option behind(const OptionPart *build, Option option) {
    Option whole = {.count = 0};
    if (!build)
        return option;
    whole.part[whole.count++] = *build;
    for (int i = 0; i < option.count; i++)
        whole.part[whole.count++] = option.part[i];
    return whole;
}

static bool wants(const Tour *t, Shape shape) {
    return (t->limits->shapes & 1u << shape) != 0;
}

/* Options that differ in their last cut. */
typedef struct {
    const Tour *tour;
    Option option;
    bool step;   /* one cut for the whole length */
    double last; /* [%] the cut tried before */
    bool good;   /* it was within the limits */
} Ladder;

static void set_last(Ladder *l, double cut) {
    OptionPart *part = &l->option.part[l->option.count - 1];
    part->to = cut;
    if (part->fall == 'x')
        part->from = cut;
}

static bool rung_allowed(Ladder *l, double cut) {
    set_last(l, cut);
    return allowed(l->tour, &l->option);
}

/* The whole per cent next to a cut on a limit, towards the cut `first` on the
 * safe side of it [hundredths]: easier to carry out. */
static void take_whole(Ladder *l, long good, long first) {
    long rest = good % 100;
    long cut = first < good ? good - rest : good + 100 - rest;
    bool between = first < good ? cut > first : cut < first;
    if (rest == 0 || !between || !rung_allowed(l, (double)cut / 100))
        return;
    take(l->tour, &l->option);
}

/* The allowed cut nearest a limit that lies between two cuts, in hundredths,
 * by halving; `inside` is allowed, `outside` is not. */
static void take_limit(Ladder *l, double inside, double outside) {
    bool below = inside < outside;
    long good =
        (long)(below ? floor(100 * inside + 1e-6) : ceil(100 * inside - 1e-6));
    long bad = (long)(below ? ceil(100 * outside - 1e-6)
                            : floor(100 * outside + 1e-6));
    long first = good;
    while (labs(bad - good) > 1) {
        long middle = (good + bad) / 2;
        if (rung_allowed(l, (double)middle / 100))
            good = middle;
        else
            bad = middle;
    }
    if (good == first)
        return;
    set_last(l, (double)good / 100);
    take(l->tour, &l->option);
    take_whole(l, good, first);
}

/* Tries the next cut, and the limit if one lies on the way to it. */
static void climb(Ladder *l, double cut) {
    bool good = rung_allowed(l, cut);
    if (good != l->good)
        take_limit(l, good ? cut : l->last, good ? l->last : cut);
    set_last(l, cut);
    if (good)
        take(l->tour, &l->option);
    l->last = cut;
    l->good = good;
}

/* From a cut that is no option of its own. */
static Ladder ladder_at(const Tour *t, Option option, double cut) {
    Ladder l = {.tour = t, .option = option, .last = cut};
    l.good = rung_allowed(&l, cut);
    return l;
}

/* Cuts of 5, 10, ... and the largest allowed, below 100 if `part`. */
static void try_cuts(Ladder l, bool part) {
    double most = l.tour->limits->max_cut;
    for (int cut = 5; cut < most; cut += 5)
        climb(&l, cut);
    if (most > 0 && !(part && most >= 100))
        climb(&l, most);
}

static void try_falls(const Tour *t, const OptionPart *build, int days) {
    Option step = behind(build, one_part(days, 0, 'x', 0));
    Option linear = behind(build, one_part(days, 0, '-', 0));
    Option exponential = behind(build, one_part(days, 0, '~', 0));
    if (wants(t, SHAPE_STEP))
        try_cuts(ladder_at(t, step, 0), true);
    if (wants(t, SHAPE_LINEAR) && days > 1)
        try_cuts(ladder_at(t, linear, 0), false);
    if (wants(t, SHAPE_EXPONENTIAL) && days > 1)
        try_cuts(ladder_at(t, exponential, 0), true);
}

static void try_two(const Tour *t, int days, int last, double first) {
    double most = t->limits->max_cut;
    Option option = {
        .count = 2,
        .part = {{days - last, first, first, 'x'}, {last, first, first, 'x'}}};
    Ladder l = ladder_at(t, option, first);
    for (int second = (int)first + 25; second < most; second += 25)
        climb(&l, second);
    climb(&l, most);
}

static void try_two_steps(const Tour *t, int days) {
    for (int first = 25; first < t->limits->max_cut; first += 25)
        for (int last = 1; last < days; last++)
            try_two(t, days, last, first);
}

/* Full rest is a limit of its own. A largest cut of 100 allows it anyway. */
static size_t rest_limit(const Limits *limits) {
    if (!(limits->shapes & 1u << SHAPE_REST))
        return 0;
    return (size_t)limits->rest_days;
}

static void try_rest(const Tour *t, const OptionPart *build, int days) {
    Option rest = behind(build, one_part(days, 100, 'x', 100));
    bool step = wants(t, SHAPE_STEP) && t->limits->max_cut >= 100;
    if (((size_t)days <= rest_limit(t->limits) || step) && allowed(t, &rest))
        take(t, &rest);
}

/* Weeks at 5, 10 ... % more, then a taper of one part. */
static void try_build_ups(const Tour *t) {
    for (int days = 7; days <= BUILD_UP_LONGEST; days += 7)
        for (double more = 5; more < t->limits->build_up + 5; more += 5) {
            double most = fmin(more, t->limits->build_up);
            OptionPart build = {days, -most, -most, 'x'};
            for (size_t taper = 1;
                 taper <= t->longest && taper + (size_t)days <= t->length;
                 taper++) {
                try_falls(t, &build, (int)taper);
                try_rest(t, &build, (int)taper);
            }
        }
}

static void tour(Tour *t, bool none) {
    Option option = {.count = 0};
    tour_start(t);
    if (none)
        take(t, &option);
    for (int days = 1; days <= (int)t->longest; days++) {
        try_falls(t, NULL, days);
        if (wants(t, SHAPE_TWO_STEP))
            try_two_steps(t, days);
        try_rest(t, NULL, days);
    }
    if (t->limits->build_up > 0)
        try_build_ups(t);
    rules_free(&t->rules);
    free(t->cut);
}

/* ---- named options ---- */

bool search_outside(const Outlook *o, const Limits *limits,
                    const Option *option, Text *why) {
    int taper = option_days(option) - option_build_days(option);
    bool rest = option_shape(option) == SHAPE_REST &&
                (size_t)taper <= rest_limit(limits);
    double *cut = mem_new(o->window, sizeof *cut);
    LimitName name;
    Rules rules;
    bool outside = true;
    rules_build(o, limits, &rules);
    option_cuts(option, o->window, cut);
    if (option_more(option) > limits->build_up ||
        option_build_days(option) > BUILD_UP_LONGEST) {
        text_add(why, "builds up more or for longer than ");
        limits_option(limits, LIMIT_BUILD_UP, why);
    } else if (taper > limits->max_length) {
        text_add(why, "longer than ");
        limits_option(limits, LIMIT_LENGTH, why);
    } else if (!rest && option_cut(option) > limits->max_cut) {
        text_add(why, "cuts more than ");
        limits_option(limits, LIMIT_CUT, why);
        if (option_shape(option) == SHAPE_REST) {
            text_add(why, ", and rests for longer than ");
            limits_option(limits, LIMIT_REST_DAYS, why);
        }
    } else if (rules_broken(&rules, cut, &name, why)) {
        text_add(why, ", which breaks ");
        limits_option(limits, name, why);
    } else {
        outside = false;
    }
    rules_free(&rules);
    free(cut);
    return outside;
}

bool search_cuts_outside(const Outlook *o, const Limits *limits,
                         const double *cut, Text *why) {
    Limits loads = *limits;
    LimitName name;
    Rules rules;
    bool outside;
    loads.min_sessions = 0; /* a session of one set is one */
    loads.max_cut = 100;    /* rounding may pass it */
    rules_build(o, &loads, &rules);
    outside = rules_broken(&rules, cut, &name, why);
    if (outside) {
        text_add(why, ", which breaks ");
        limits_option(limits, name, why);
    }
    rules_free(&rules);
    return outside;
}

bool search_allows(const Outlook *o, const Limits *limits,
                   const Option *option) {
    Text why = {0};
    bool outside = search_outside(o, limits, option, &why);
    text_free(&why);
    return !outside;
}

/* ---- limits that leave nothing ---- */

static void count_option(const Tour *t, const Option *option) {
    size_t *count = t->into;
    (void)option;
    ++*count;
}

static bool any_option(const Outlook *o, const Limits *limits) {
    size_t count = 0;
    Tour t = {
        .outlook = o, .limits = limits, .take = count_option, .into = &count};
    tour(&t, false);
    return count > 0;
}

/* The limits (at most two) without which there would be an option: one that
 * alone is enough to lift, first those given, or else two together (`both`). */
static size_t find_blame(const Outlook *o, const Limits *limits,
                         LimitName blame[2], bool *both) {
    size_t count = 0;
    for (int given = 1; given >= 0; given--)
        for (LimitName name = 0; name < LIMIT_NAMES && count < 2; name++) {
            Limits lifted = *limits;
            limits_lift(&lifted, name);
            if (limits_given(limits, name) == given && any_option(o, &lifted))
                blame[count++] = name;
        }
    *both = count == 0;
    for (LimitName a = 0; a < LIMIT_NAMES && count == 0; a++)
        for (LimitName b = a + 1; b < LIMIT_NAMES && count == 0; b++) {
            Limits lifted = *limits;
            limits_lift(&lifted, a);
            limits_lift(&lifted, b);
            if (any_option(o, &lifted)) {
                blame[count++] = a;
                blame[count++] = b;
            }
        }
    return count;
}

/* What the usual week itself breaks. */
static bool add_usual(const Outlook *o, const Limits *limits, Text *text) {
    double *cut = mem_new(o->window, sizeof *cut);
    LimitName name;
    Rules rules;
    Text what = {0};
    bool broken;
    rules_build(o, limits, &rules);
    broken = rules_broken(&rules, cut, &name, &what);
    if (broken)
        text_add(text, " (in the usual week %s)", text_of(&what));
    text_free(&what);
    rules_free(&rules);
    free(cut);
    return broken;
}

static StatusCode refuse(const Outlook *o, const Limits *limits,
                         Status *status) {
    LimitName blame[2];
    bool both;
    size_t count = find_blame(o, limits, blame, &both);
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        text_add(&text, i ? " and " : "");
        limits_option(limits, blame[i], &text);
    }
    if (count == 0)
        text_add(&text, "these limits together");
    text_add(&text, " leave%s no taper to try", count == 1 ? "s" : "");
    if (count == 1 && blame[0] == LIMIT_SESSIONS && limits->no_gym > 0) {
        text_add(&text, " beside ");
        limits_option(limits, LIMIT_NO_GYM, &text);
    }
    add_usual(o, limits, &text);
    status_fail(status, STATUS_DATA, "%s; expected %s", text_of(&text),
                count < 2 ? "a wider limit"
                : both    ? "both wider"
                          : "a wider limit, one of these two");
    text_free(&text);
    return status->code;
}

/* ---- the search ---- */

static void keep_option(const Tour *t, const Option *option) {
    Search *s = t->into;
    s->items = mem_grow(s->items, &s->room, s->count + 1, sizeof *s->items);
    s->cuts = mem_grow(s->cuts, &s->cut_room, (s->count + 1) * t->length,
                       sizeof *s->cuts);
    s->days = t->length;
    memcpy(s->cuts + s->count * t->length, t->cut, t->length * sizeof *s->cuts);
    s->items[s->count++] = (Found){
        .option = *option,
        .kept = search_kept_cuts(t->outlook, t->cut, t->length),
    };
}

/* Better, or as good with more training kept, or shorter. */
static bool beats(const Found *a, const Found *b) {
    double margin = 1e-9 * fmax(fabs(a->gain), fabs(b->gain));
    if (fabs(a->gain - b->gain) > margin)
        return a->gain > b->gain;
    if (fabs(a->kept - b->kept) > 1e-9)
        return a->kept > b->kept;
    return option_days(&a->option) < option_days(&b->option);
}

static bool keeps_more(const Found *a, const Found *b) {
    if (fabs(a->kept - b->kept) > 1e-9)
        return a->kept > b->kept;
    return beats(a, b);
}

/* Gains below this are rounding: a billionth of what cutting can move. */
static double least_gain(const Score *score, double none) {
    double sum = 0;
    for (size_t i = 0; i < score->days * score->window; i++)
        sum += fabs(score->drop[i]);
    return score->linear ? 1e-9 * sum : 1e-10 * fabs(none);
}

/* Is a gain within 5 % of the best, whatever its sign? */
static bool as_good(double gain, double best) {
    return gain >= best - (SEARCH_EQUAL + 1e-9) * fabs(best);
}

static void judge(Search *s, double least) {
    for (size_t i = 1; i < s->count; i++)
        if ((s->items[i].gain > least || s->none_outside) &&
            (s->best == 0 || beats(&s->items[i], &s->items[s->best])))
            s->best = i;
    s->recommended = s->best;
    for (size_t i = 1; i < s->count && s->best; i++) {
        Found *f = &s->items[i];
        if (!as_good(f->gain, s->items[s->best].gain))
            continue;
        f->tag = TAG_EQUAL;
        s->equal++;
        if (keeps_more(f, &s->items[s->recommended]))
            s->recommended = i;
    }
    s->items[s->best].tag = TAG_BEST;
    s->items[s->recommended].tag = TAG_RECOMMENDED;
    s->items[0].tag = TAG_NONE;
}

double search_kept_cuts(const Outlook *o, const double *cut, size_t days) {
    double planned = 0, gone = 0;
    if (days > o->window)
        days = o->window;
    for (size_t u = 1; u <= days; u++) {
        planned += outlook_planned(o, o->event_day - u);
        gone += cut[u - 1] * o->cuttable[o->event_day - u];
    }
    return planned > 0 ? 1 - gone / planned : 1;
}

double search_kept(const Outlook *o, const Option *option, size_t days) {
    double *cut = mem_new(o->window, sizeof *cut), kept;
    option_cuts(option, o->window, cut);
    kept = search_kept_cuts(o, cut, days);
    free(cut);
    return kept;
}

StatusCode search_list(const Outlook *o, const Limits *limits, Search *s,
                       Status *status) {
    Option none = {.count = 0};
    Tour t = {.outlook = o, .limits = limits, .take = keep_option, .into = s};
    *s = (Search){.none_outside = !search_allows(o, limits, &none)};
    tour(&t, true);
    return s->count > 1 || o->window == 0 ? STATUS_OK
                                          : refuse(o, limits, status);
}

/* Readiness under each option. */
static void rate_all(const Search *s, const Score *score, double *readiness) {
    if (score->linear)
        for (size_t i = 0; i < s->count; i++)
            readiness[i] = score_option(score, &s->items[i].option);
    else
        score_near_all(score, s->cuts, s->days, s->count, readiness);
}

void search_rate(Search *s, const Score *score) {
    double none = score_aim(score, score->base);
    double *readiness = mem_new(s->count, sizeof *readiness);
    rate_all(s, score, readiness);
    s->best = s->recommended = s->equal = 0;
    for (size_t i = 0; i < s->count; i++) {
        Found *f = &s->items[i];
        f->gain = i > 0 ? readiness[i] - none : 0;
        f->readiness = none + f->gain;
        f->tag = TAG_BLANK;
    }
    free(readiness);
    judge(s, least_gain(score, none));
}

StatusCode search_run(const Outlook *o, const Score *score,
                      const Limits *limits, Search *s, Status *status) {
    StatusCode code = search_list(o, limits, s, status);
    search_rate(s, score);
    free(s->cuts);
    s->cuts = NULL;
    s->ceiling_cut = mem_new(o->window, sizeof *s->ceiling_cut);
    s->ceiling = s->items[0].readiness;
    if (code != STATUS_OK || o->window == 0)
        return code;
    option_cuts(&s->items[s->best].option, s->days, s->ceiling_cut);
    return search_ceiling(o, score, limits, s->ceiling_cut, &s->ceiling,
                          status);
}

StatusCode search_ceiling(const Outlook *o, const Score *score,
                          const Limits *limits, double *cut, double *readiness,
                          Status *status) {
    Rules rules;
    StatusCode code;
    rules_build(o, limits, &rules);
    code = ceiling_find(score, &rules, cut, readiness, status);
    rules_free(&rules);
    return code;
}

void search_free(Search *s) {
    free(s->items);
    free(s->cuts);
    free(s->ceiling_cut);
    *s = (Search){0};
}

/* The best gain so far. */
typedef struct {
    const Score *score;
    double none, best;
} Highest;

static void keep_gain(const Tour *t, const Option *option) {
    Highest *h = t->into;
    h->best = fmax(h->best, score_option(h->score, option) - h->none);
}

double search_best_gain(const Outlook *o, const Score *score,
                        const Limits *limits) {
    Option none = {.count = 0};
    Highest h = {score, score_aim(score, score->base), 0};
    Tour t = {.outlook = o, .limits = limits, .take = keep_gain, .into = &h};
    if (!search_allows(o, limits, &none))
        h.best = -INFINITY;
    tour(&t, false);
    return h.best;
}

double search_share(double gain, double ceiling_gain) {
    return ceiling_gain > 0 ? gain / ceiling_gain : NAN;
}
