/* search: see search.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/search.h"

#include "base/mem.h"

#include <glpk.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const tag_names[] = {"",      "best",    "recommended",
                                 "equal", "ceiling", "none"};

Limits limits_default(void) {
    return (Limits){.max_length = 28,
                    .max_cut = 75,
                    .shapes = 1u << SHAPE_STEP | 1u << SHAPE_LINEAR |
                              1u << SHAPE_EXPONENTIAL | 1u << SHAPE_TWO_STEP |
                              1u << SHAPE_REST,
                    .rest_days = 3};
}

/* What a search carries from option to option. */
typedef struct {
    const Outlook *outlook;
    const Score *score;
    const Limits *limits;
    size_t length;   /* [d] longest taper: limit or window */
    double none;     /* [readiness] without a taper */
    double *planned; /* [load] of each day before the event, cuttable part */
    double week_room[18]; /* [load] that may go from each block of 7 days */
    void (*take)(void *into, const Option *option, double gain);
    void *into;
} Tour;

static size_t longest(const Outlook *o, const Limits *limits) {
    size_t length = (size_t)limits->max_length;
    return length < o->window ? length : o->window;
}

/* Load that may go from the block of seven days u = 7 w + 1 ... 7 w + 7. */
static double week_room(const Outlook *o, const Limits *limits, size_t week) {
    double load = 0;
    for (size_t u = 7 * week + 1; u <= 7 * week + 7 && u <= o->window; u++)
        load += outlook_planned(o, o->event_day - u);
    return load * (1 - limits->min_week_load / 100);
}

static void tour_set_days(Tour *t) {
    const Outlook *o = t->outlook;
    t->length = longest(o, t->limits);
    t->planned = mem_new(o->window, sizeof *t->planned);
    for (size_t u = 1; u <= o->window; u++)
        t->planned[u - 1] = o->cuttable[o->event_day - u];
    for (size_t w = 0; w < 18; w++)
        t->week_room[w] = week_room(o, t->limits, w);
}

static void tour_start(Tour *t) {
    tour_set_days(t);
    t->none = score_aim(t->score, t->score->base);
}

/* Does every week keep its least load? */
static bool weeks_hold(const Tour *t, const Option *option) {
    double cut[OPTION_LONGEST];
    double gone = 0;
    size_t days = t->length;
    if (t->limits->min_week_load <= 0)
        return true;
    option_cuts(option, days, cut);
    for (size_t u = 1; u <= days; u++) {
        size_t week = (u - 1) / 7;
        gone += cut[u - 1] * t->planned[u - 1];
        if (gone > t->week_room[week] * (1 + 1e-12))
            return false;
        if (u % 7 == 0)
            gone = 0;
    }
    return true;
}

static void try_option(const Tour *t, const Option *option) {
    if (weeks_hold(t, option))
        t->take(t->into, option, score_option(t->score, option) - t->none);
}

static Option one_part(int days, double from, char fall, double to) {
    return (Option){.count = 1, .part = {{days, from, to, fall}}};
}

static bool wants(const Tour *t, Shape shape) {
    return (t->limits->shapes & 1u << shape) != 0;
}

static void try_falls(const Tour *t, int days, double cut) {
    Option option = one_part(days, cut, 'x', cut);
    if (wants(t, SHAPE_STEP) && cut < 100)
        try_option(t, &option);
    option = one_part(days, 0, '-', cut);
    if (wants(t, SHAPE_LINEAR) && days > 1)
        try_option(t, &option);
    option = one_part(days, 0, '~', cut);
    if (wants(t, SHAPE_EXPONENTIAL) && days > 1 && cut < 100)
        try_option(t, &option);
}

/* Cuts of 5, 10, ... and the largest allowed. */
static void try_cuts(const Tour *t, int days) {
    double most = t->limits->max_cut;
    for (int cut = 5; cut < most; cut += 5)
        try_falls(t, days, cut);
    try_falls(t, days, most);
}

static void try_two(const Tour *t, int days, double first, double second) {
    for (int last = 1; last < days; last++) {
        Option option = {.count = 2,
                         .part = {{days - last, first, first, 'x'},
                                  {last, second, second, 'x'}}};
        try_option(t, &option);
    }
}

static void try_two_steps(const Tour *t, int days) {
    double most = t->limits->max_cut;
    for (int first = 25; first < most; first += 25) {
        for (int second = first + 25; second < most; second += 25)
            try_two(t, days, first, second);
        try_two(t, days, first, most);
    }
}

/* Full rest is a limit of its own. A largest cut of 100 allows it anyway. */
static size_t rest_limit(const Limits *limits) {
    if (!(limits->shapes & 1u << SHAPE_REST))
        return 0;
    return (size_t)limits->rest_days;
}

static void tour(Tour *t) {
    tour_start(t);
    for (int days = 1; days <= (int)t->length; days++) {
        Option rest = one_part(days, 100, 'x', 100);
        bool step = wants(t, SHAPE_STEP) && t->limits->max_cut >= 100;
        try_cuts(t, days);
        if (wants(t, SHAPE_TWO_STEP))
            try_two_steps(t, days);
        if ((size_t)days <= rest_limit(t->limits) || step)
            try_option(t, &rest);
    }
    free(t->planned);
}

/* ---- ceiling ---- */

static double day_limit(const Limits *limits, size_t u) {
    return u <= rest_limit(limits) ? 1 : limits->max_cut / 100;
}

static void ceiling_by_sign(const Score *s, const Limits *limits, size_t length,
                            double *cut) {
    for (size_t u = 1; u <= length; u++) {
        cut[u - 1] = s->drop[u - 1] < 0 ? day_limit(limits, u) : 0;
    }
}

bool search_allows(const Outlook *o, const Limits *limits,
                   const Option *option) {
    Tour t = {.outlook = o, .limits = limits};
    bool rest = option_shape(option) == SHAPE_REST &&
                (size_t)option_days(option) <= rest_limit(limits);
    bool holds;
    if (option_days(option) > limits->max_length ||
        (!rest && option_cut(option) > limits->max_cut))
        return false;
    tour_set_days(&t);
    holds = weeks_hold(&t, option);
    free(t.planned);
    return holds;
}

/* ---- the search ---- */

static void keep_option(void *into, const Option *option, double gain) {
    Search *s = into;
    s->items = mem_grow(s->items, &s->room, s->count + 1, sizeof *s->items);
    s->items[s->count++] = (Found){.option = *option, .gain = gain};
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

static void judge(Search *s, double least) {
    for (size_t i = 1; i < s->count; i++)
        if (s->items[i].gain > least &&
            (s->best == 0 || beats(&s->items[i], &s->items[s->best])))
            s->best = i;
    s->recommended = s->best;
    for (size_t i = 1; i < s->count && s->best; i++) {
        Found *f = &s->items[i];
        if (f->gain < (1 - SEARCH_EQUAL - 1e-9) * s->items[s->best].gain)
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

StatusCode search_run(const Outlook *o, const Score *score,
                      const Limits *limits, Search *s, Status *status) {
    Option none = {.count = 0};
    Tour t = {.outlook = o,
              .score = score,
              .limits = limits,
              .take = keep_option,
              .into = s};
    *s = (Search){0};
    s->items = mem_grow(NULL, &s->room, 4096, sizeof *s->items);
    keep_option(s, &none, 0);
    tour(&t);
    for (size_t i = 0; i < s->count; i++) {
        s->items[i].readiness = t.none + s->items[i].gain;
        s->items[i].kept = search_kept(o, &s->items[i].option, t.length);
    }
    judge(s, least_gain(score, t.none));
    s->ceiling_cut = mem_new(o->window, sizeof *s->ceiling_cut);
    option_cuts(&s->items[s->best].option, t.length, s->ceiling_cut);
    return search_ceiling(o, score, limits, s->ceiling_cut, &s->ceiling,
                          status);
}

void search_free(Search *s) {
    free(s->items);
    free(s->ceiling_cut);
    *s = (Search){0};
}

static void keep_gain(void *into, const Option *option, double gain) {
    double *best = into;
    (void)option;
    *best = fmax(*best, gain);
}

double search_best_gain(const Outlook *o, const Score *score,
                        const Limits *limits) {
    double best = 0;
    Tour t = {.outlook = o,
              .score = score,
              .limits = limits,
              .take = keep_gain,
              .into = &best};
    tour(&t);
    return best;
}

double search_share(double gain, double ceiling_gain) {
    return ceiling_gain > 0 ? gain / ceiling_gain : NAN;
}

/* ---- the ceiling's linear programme ---- */

/* Columns 1 ... length: the cut of each day; column length + 1: the lowest
 * readiness, for AIM_LOWEST. */
typedef struct {
    glp_prob *problem;
    int length;
    int *index; /* [length + 2] */
    double *value;
    int count;
    double scale; /* [readiness] largest drop: GLPK's tolerances are absolute */
} Programme;

static void row_start(Programme *p) {
    p->count = 0;
}

static void row_term(Programme *p, int column, double value) {
    p->count++;
    p->index[p->count] = column;
    p->value[p->count] = value;
}

static void row_end(Programme *p, double highest) {
    int row = glp_add_rows(p->problem, 1);
    glp_set_row_bnds(p->problem, row, GLP_UP, 0, highest);
    glp_set_mat_row(p->problem, row, p->count, p->index, p->value);
}

static void add_days(Programme *p, const Score *s, const Limits *limits) {
    glp_add_cols(p->problem, p->length + 1);
    for (int u = 1; u <= p->length; u++) {
        double most = day_limit(limits, (size_t)u);
        double drop = s->drop[u - 1] / p->scale;
        glp_set_col_bnds(p->problem, u, most > 0 ? GLP_DB : GLP_FX, 0, most);
        glp_set_obj_coef(p->problem, u, s->aim == AIM_LOWEST ? 0 : -drop);
    }
    glp_set_col_bnds(p->problem, p->length + 1,
                     s->aim == AIM_LOWEST ? GLP_FR : GLP_FX, 0, 0);
    glp_set_obj_coef(p->problem, p->length + 1, s->aim == AIM_LOWEST ? 1 : 0);
}

/* lowest + sum of cut x drop <= base, on each day of the event. */
static void add_lowest(Programme *p, const Score *s) {
    for (size_t e = 0; e < s->days && s->aim == AIM_LOWEST; e++) {
        row_start(p);
        for (int u = 1; u <= p->length; u++)
            row_term(p, u, s->drop[e * s->window + (size_t)u - 1] / p->scale);
        row_term(p, p->length + 1, 1);
        row_end(p, (s->base[e] - s->base[0]) / p->scale);
    }
}

static void add_weeks(Programme *p, const Outlook *o, const Limits *limits) {
    for (int from = 1; from <= p->length && limits->min_week_load > 0;
         from += 7) {
        double scale = 0; /* GLPK's tolerances are absolute */
        for (int u = from; u < from + 7 && u <= p->length; u++)
            scale = fmax(scale, o->cuttable[o->event_day - (size_t)u]);
        if (scale <= 0)
            continue;
        row_start(p);
        for (int u = from; u < from + 7 && u <= p->length; u++)
            row_term(p, u, o->cuttable[o->event_day - (size_t)u] / scale);
        row_end(p, week_room(o, limits, (size_t)(from / 7)) / scale);
    }
}

static StatusCode solve(Programme *p, double *cut, Status *status) {
    glp_smcp settings;
    glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    if (glp_simplex(p->problem, &settings) != 0 ||
        glp_get_status(p->problem) != GLP_OPT)
        return status_fail(status, STATUS_DATA,
                           "the ceiling within these limits could not be "
                           "found (linear programme without an optimum)");
    for (int u = 1; u <= p->length; u++)
        cut[u - 1] = glp_get_col_prim(p->problem, u);
    return STATUS_OK;
}

static StatusCode ceiling_by_programme(const Outlook *o, const Score *s,
                                       const Limits *limits, double *cut,
                                       Status *status) {
    Programme p = {.length = (int)longest(o, limits)};
    StatusCode code;
    glp_term_out(GLP_OFF);
    p.problem = glp_create_prob();
    p.index = mem_new((size_t)p.length + 2, sizeof *p.index);
    p.value = mem_new((size_t)p.length + 2, sizeof *p.value);
    for (size_t i = 0; i < s->days * s->window; i++)
        p.scale = fmax(p.scale, fabs(s->drop[i]));
    if (p.scale <= 0)
        p.scale = 1;
    glp_set_obj_dir(p.problem, GLP_MAX);
    add_days(&p, s, limits);
    add_lowest(&p, s);
    add_weeks(&p, o, limits);
    code = solve(&p, cut, status);
    glp_delete_prob(p.problem);
    glp_free_env();
    free(p.index);
    free(p.value);
    return code;
}

/* ---- the ceiling of a variable-dose model ---- */

/* A line along which cuts move: cut[day] by step, cut[other] by -step times
 * the ratio of their loads, or one day alone. */
typedef struct {
    size_t day, other; /* indices into cut; the same: one day alone */
    double ratio;
} Line;

typedef struct {
    const Outlook *outlook;
    const Score *score;
    const Limits *limits;
    size_t length;
    double *cut;
    double value; /* [readiness] at `cut` */
} Ascent;

static void move(const Ascent *a, const Line *line, double step) {
    a->cut[line->day] += step;
    if (line->other != line->day)
        a->cut[line->other] -= step * line->ratio;
}

static double value_at(const Ascent *a, const Line *line, double step) {
    double value;
    double day = a->cut[line->day], other = a->cut[line->other];
    move(a, line, step);
    value = score_cuts(a->score, a->cut);
    a->cut[line->other] = other;
    a->cut[line->day] = day;
    return value;
}

/* Load that may still go from a day's week. */
static double room_left(const Ascent *a, size_t day) {
    size_t week = day / 7;
    double room = week_room(a->outlook, a->limits, week);
    for (size_t i = 7 * week; i < 7 * week + 7 && i < a->length; i++)
        room -= a->cut[i] * a->outlook->cuttable[a->outlook->event_day - i - 1];
    return fmax(0, room);
}

/* How far the line goes both ways within the limits. */
static void span(const Ascent *a, const Line *line, double *low, double *high) {
    double load = a->outlook->cuttable[a->outlook->event_day - line->day - 1];
    *low = -a->cut[line->day];
    *high = day_limit(a->limits, line->day + 1) - a->cut[line->day];
    if (line->other != line->day) {
        double most = day_limit(a->limits, line->other + 1);
        *low = fmax(*low, (a->cut[line->other] - most) / line->ratio);
        *high = fmin(*high, a->cut[line->other] / line->ratio);
    } else if (a->limits->min_week_load > 0) {
        *high = fmin(*high, room_left(a, line->day) / load);
    }
}

/* Highest point of a parabola through three values at low, middle, high. */
static double vertex(double low, double high, const double value[3]) {
    double half = (high - low) / 2;
    double bend = value[0] - 2 * value[1] + value[2];
    double tilt = (value[2] - value[0]) / 2;
    if (bend >= 0)
        return value[2] > value[0] ? high : low;
    return fmin(high, fmax(low, low + half - half * tilt / bend));
}

/* Along a line the lowest of several parabolas is still concave: golden
 * section. */
static double golden(const Ascent *a, const Line *line, double low,
                     double high) {
    const double part = .6180339887498949;
    for (int i = 0; i < 45; i++) {
        double x = high - part * (high - low), y = low + part * (high - low);
        if (value_at(a, line, x) < value_at(a, line, y))
            low = x;
        else
            high = y;
    }
    return (low + high) / 2;
}

static void climb(Ascent *a, const Line *line) {
    double low, high, step, value[3];
    span(a, line, &low, &high);
    if (!(high - low > 1e-12))
        return;
    for (int i = 0; i < 3; i++)
        value[i] = value_at(a, line, low + i * (high - low) / 2);
    step = vertex(low, high, value);
    if (a->score->aim == AIM_LOWEST && a->score->days > 1)
        step = golden(a, line, low, high);
    value[1] = value_at(a, line, step);
    if (value[1] <= a->value)
        return;
    move(a, line, step);
    a->value = value[1];
}

/* Exchanges between the days of one week, where its least load binds. */
static void climb_pairs(Ascent *a, size_t day) {
    const double *load = a->outlook->cuttable;
    size_t event = a->outlook->event_day;
    for (size_t other = day + 1; other < a->length && other / 7 == day / 7;
         other++) {
        Line line = {day, other,
                     load[event - day - 1] / load[event - other - 1]};
        if (load[event - other - 1] > 0)
            climb(a, &line);
    }
}

static void ascend(Ascent *a) {
    a->value = score_cuts(a->score, a->cut);
    for (int sweep = 0; sweep < 300; sweep++) {
        double before = a->value;
        for (size_t day = 0; day < a->length; day++) {
            Line line = {day, day, 1};
            if (a->outlook->cuttable[a->outlook->event_day - day - 1] <= 0)
                continue;
            climb(a, &line);
            if (a->limits->min_week_load > 0)
                climb_pairs(a, day);
        }
        if (a->value - before <= 1e-13 * fabs(a->value))
            return;
    }
}

/* The cuts given, none, and as much as each day and week allows. */
static void set_ascent_start(Ascent *a, int start, const double *given) {
    for (size_t day = 0; day < a->length; day++)
        a->cut[day] = start == 0 ? given[day] : 0;
    for (size_t day = 0; day < a->length && start == 2; day++) {
        double load = a->outlook->cuttable[a->outlook->event_day - day - 1];
        if (load > 0)
            a->cut[day] =
                fmin(day_limit(a->limits, day + 1), room_left(a, day) / load);
    }
}

static void ceiling_by_ascent(const Outlook *o, const Score *s,
                              const Limits *limits, double *cut) {
    Ascent a = {.outlook = o,
                .score = s,
                .limits = limits,
                .length = longest(o, limits),
                .cut = mem_new(o->window, sizeof *a.cut)};
    double *best = mem_new(o->window, sizeof *best);
    double highest = -INFINITY;
    for (int start = 0; start < 3; start++) {
        set_ascent_start(&a, start, cut);
        ascend(&a);
        if (a.value > highest) {
            highest = a.value;
            memcpy(best, a.cut, o->window * sizeof *best);
        }
    }
    memcpy(cut, best, o->window * sizeof *best);
    free(a.cut);
    free(best);
}

StatusCode search_ceiling(const Outlook *o, const Score *s,
                          const Limits *limits, double *cut, double *readiness,
                          Status *status) {
    size_t length = longest(o, limits);
    StatusCode code = STATUS_OK;
    bool tied =
        limits->min_week_load > 0 || (s->aim == AIM_LOWEST && s->days > 1);
    if (!s->linear) {
        ceiling_by_ascent(o, s, limits, cut);
        *readiness = score_cuts(s, cut);
        return code;
    }
    for (size_t u = 0; u < o->window; u++)
        cut[u] = 0;
    if (tied && length > 0)
        code = ceiling_by_programme(o, s, limits, cut, status);
    else
        ceiling_by_sign(s, limits, length, cut);
    *readiness = score_cuts(s, cut);
    return code;
}
