/* common: see common.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/common.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Losses are told apart in hundredths of what is possible for one athlete on
 * average, so that the last digits of a gain decide nothing. */
static const double grain = .01;
/* What a loss counts in addition, in shares of all that is possible: one that
 * is over an athlete's own limit, and an option that is not theirs. */
static const double too_much = 1e3, barred = 1e6;
/* Losses looked at before all pairs give way to exchanges, and before there are
 * no more starts. */
static const double most_work = 3e7;

/* ---- preference ---- */

/* Share of the volume that a part takes away over its days. */
static double part_cut(const OptionPart *p) {
    double sum = 0;
    for (int day = 0; day < p->days; day++) {
        double at = p->days > 1 ? (double)day / (p->days - 1) : 1;
        sum += p->fall == '~' && p->to < 100
                   ? 100 - (100 - p->from) *
                               pow((100 - p->to) / (100 - p->from), at)
                   : p->from + (p->to - p->from) * at;
    }
    return sum / p->days;
}

/* Days' worth of training that is left out. */
static double option_cost(const Option *o) {
    double sum = 0;
    for (int i = 0; i < o->count; i++)
        sum += o->part[i].days * part_cut(&o->part[i]) / 100;
    return sum;
}

bool common_published(const Option *o) {
    int days = option_days(o);
    return o->count == 1 && o->part[0].fall == 'x' && days >= 8 && days <= 14 &&
           o->part[0].to >= 41 && o->part[0].to <= 60;
}

static bool is_round(double x, double of) {
    return fabs(x - of * round(x / of)) < 1e-9;
}

/* Lengths a fifth apart; cuts in tenths, quarters and thirds. */
static bool is_coarse(const OptionPart *p) {
    static const int lengths[] = {1, 2,  3,  4,  5,  6,  7,
                                  8, 10, 12, 14, 17, 21, 28};
    bool length = false;
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++)
        length = length || p->days == lengths[i];
    return length && (is_round(p->to, 10) || is_round(p->to, 25)) &&
           (is_round(p->from, 10) || is_round(p->from, 25));
}

static bool all_coarse(const Option *o) {
    bool coarse = true;
    for (int i = 0; i < o->count; i++)
        coarse = coarse && is_coarse(&o->part[i]);
    return coarse;
}

static int order(double a, double b) {
    return (a > b) - (a < b);
}

bool common_same(const Option *a, const Option *b) {
    return option_order(a, b) == 0;
}

int common_prefer(const void *one, const void *other) {
    const Option *a = one, *b = other;
    int found = common_published(b) - common_published(a);
    if (found == 0)
        found = a->count - b->count;
    if (found == 0)
        found = all_coarse(b) - all_coarse(a);
    if (found == 0)
        found = order(option_cost(a), option_cost(b));
    return found ? found : option_order(a, b);
}

/* ---- what is searched ---- */

typedef struct {
    Option option;
    size_t index; /* in the task */
} Ranked;

/* Options in the order of preference, so that of equals the first is taken. */
typedef struct {
    const CommonTask *task;
    size_t athletes, options;
    Ranked *ranked;
    double *cost;     /* [option * athletes + athlete] what counts as lost */
    double *possible; /* [athletes] gain of their best option */
    double total;     /* of all that is possible */
    double *least;    /* [athletes] workspace */
} Table;

static int rank(const void *one, const void *other) {
    return common_prefer(&((const Ranked *)one)->option,
                         &((const Ranked *)other)->option);
}

/* What athlete i gains by an option; NAN: barred. */
static double gain_at(const Table *t, size_t o, size_t i) {
    return t->task->gain[i][t->ranked[o].index];
}

static void table_build(const CommonTask *task, Table *t) {
    size_t n = task->athletes, m = task->options;
    *t = (Table){.task = task, .athletes = n, .options = m};
    t->ranked = mem_new(m, sizeof *t->ranked);
    t->cost = mem_new(n * m, sizeof *t->cost);
    t->possible = mem_new(n, sizeof *t->possible);
    t->least = mem_new(n, sizeof *t->least);
    for (size_t o = 0; o < m; o++)
        t->ranked[o] = (Ranked){task->option[o], o};
    qsort(t->ranked, m, sizeof *t->ranked, rank);
    for (size_t i = 0; i < n; i++) {
        t->possible[i] = -INFINITY;
        for (size_t o = 0; o < m; o++)
            t->possible[i] = fmax(t->possible[i], task->gain[i][o]);
        t->total += fmax(t->possible[i], 0);
    }
}

static void table_free(Table *t) {
    free(t->ranked);
    free(t->cost);
    free(t->possible);
    free(t->least);
}

/* What athlete i loses under an option; NAN: barred. */
static double loss_of(const Table *t, size_t o, size_t i) {
    return t->possible[i] - gain_at(t, o, i);
}

/* Does an option cost an athlete more than their own limit? */
static bool over_own(const Table *t, size_t o, size_t i) {
    double limit = COMMON_OWN * fmax(t->possible[i], 0);
    return !(loss_of(t, o, i) <= limit + 1e-12 * t->total);
}

/* Costs in shares of all that is possible; with `own`, losses over somebody's
 * own limit count for more than all others. */
static void set_costs(Table *t, bool own) {
    double step = t->total > 0 ? grain * t->total / (double)t->athletes : 1;
    for (size_t o = 0; o < t->options; o++)
        for (size_t i = 0; i < t->athletes; i++) {
            double loss = loss_of(t, o, i),
                   *cost = &t->cost[o * t->athletes + i];
            *cost = barred;
            if (isnan(loss))
                continue;
            *cost = t->total > 0 ? step * round(loss / step) / t->total : loss;
            if (own && over_own(t, o, i))
                *cost += too_much;
        }
}

/* ---- sets of tapers ---- */

typedef struct {
    size_t tapers;
    size_t at[COMMON_MOST]; /* ranks */
    double total;           /* sum of costs */
} Set;

static void set_least(Table *t, const Set *s, size_t without) {
    for (size_t i = 0; i < t->athletes; i++)
        t->least[i] = 2 * barred;
    for (size_t k = 0; k < s->tapers; k++)
        for (size_t i = 0; i < t->athletes && k != without; i++)
            t->least[i] =
                fmin(t->least[i], t->cost[s->at[k] * t->athletes + i]);
}

static double total_with(const Table *t, size_t o) {
    const double *cost = &t->cost[o * t->athletes];
    double total = 0;
    for (size_t i = 0; i < t->athletes; i++)
        total += cost[i] < t->least[i] ? cost[i] : t->least[i];
    return total;
}

/* Less by more than rounding. */
static bool less(double a, double b) {
    return a < b - 1e-9;
}

/* Puts the best option at place k; false when what stands there is as good. */
static bool improve(Table *t, Set *s, size_t k) {
    bool better = false;
    set_least(t, s, k);
    for (size_t o = 0; o < t->options; o++) {
        double total = total_with(t, o);
        if (less(total, s->total)) {
            s->at[k] = o;
            s->total = total;
            better = true;
        }
    }
    return better;
}

static void grow(Table *t, Set *s) {
    s->total = INFINITY;
    s->at[s->tapers] = 0;
    s->tapers++;
    improve(t, s, s->tapers - 1);
}

static void exchange(Table *t, Set *s) {
    bool better = true;
    while (better) {
        better = false;
        for (size_t k = 0; k < s->tapers; k++)
            better = improve(t, s, k) || better;
    }
}

static void keep_better(const Set *set, Set *best) {
    if (less(set->total, best->total))
        *best = *set;
}

/* The option that an athlete would choose. */
static size_t own_best(const Table *t, size_t i) {
    size_t best = 0;
    for (size_t o = 1; o < t->options; o++)
        if (less(t->cost[o * t->athletes + i], t->cost[best * t->athletes + i]))
            best = o;
    return best;
}

/* One taper more: every pair of two, if they are few; else the set with one
 * added, and sets that begin with what some athletes would choose. */
static Set one_more(Table *t, const Set *fewer) {
    double cells = (double)t->options * (double)t->athletes;
    size_t tapers = fewer->tapers + 1, starts;
    Set best = *fewer;
    grow(t, &best);
    exchange(t, &best);
    starts = (size_t)fmin(24, most_work / (cells * (double)tapers * 4));
    if (tapers == 2 && cells * (double)t->options <= most_work)
        starts = t->options;
    for (size_t k = 0; k < starts && tapers > 1; k++) {
        Set set = {.tapers = 1};
        set.at[0] = starts == t->options ? k : own_best(t, k % t->athletes);
        while (set.tapers < tapers)
            grow(t, &set);
        if (starts != t->options)
            exchange(t, &set);
        keep_better(&set, &best);
    }
    return best;
}

/* The fewest tapers that lose little, or `most`. */
static Set find_set(Table *t, size_t most) {
    Set set = {0};
    double allowed = t->total > 0 ? COMMON_LOST : 0;
    do
        set = one_more(t, &set);
    while (set.tapers < most && set.tapers < t->options &&
           less(allowed, set.total));
    return set;
}

/* ---- from sets to athletes ---- */

/* Athletes who share a taper (a rank). */
typedef struct {
    size_t taper, count;
    size_t *who; /* [count] */
} Members;

static Members members_of(const Table *t, const size_t *of, size_t taper) {
    Members m = {.taper = taper};
    m.who = mem_new(t->athletes, sizeof *m.who);
    for (size_t i = 0; i < t->athletes; i++)
        if (of[i] == taper)
            m.who[m.count++] = i;
    return m;
}

/* Sum of what they gain under an option; -INFINITY where it is barred to one of
 * them or costs one more than their own limit and more than what they have. */
static double gain_of(const Table *t, const Members *m, size_t o) {
    double sum = 0;
    for (size_t k = 0; k < m->count; k++) {
        double gain = gain_at(t, o, m->who[k]);
        double now = gain_at(t, m->taper, m->who[k]);
        if (isnan(gain) || (over_own(t, o, m->who[k]) && !(gain >= now)))
            return -INFINITY;
        sum += gain;
    }
    return sum;
}

/* The most preferred option among those as good for them. */
static size_t prefer(const Table *t, const Members *m) {
    double best = -INFINITY, slack;
    for (size_t o = 0; o < t->options; o++)
        best = fmax(best, gain_of(t, m, o));
    slack = COMMON_EQUAL * fabs(best) + 1e-12 * t->total;
    for (size_t o = 0; o < t->options; o++)
        if (gain_of(t, m, o) >= best - slack)
            return o;
    return m->taper;
}

/* Gives each athlete the taper of the set that costs them least, of[i]; one who
 * may have none of them their own. */
static void hand_out(const Table *t, const Set *s, size_t *of) {
    for (size_t i = 0; i < t->athletes; i++) {
        size_t best = s->at[0];
        for (size_t k = 1; k < s->tapers; k++) {
            double now = t->cost[best * t->athletes + i];
            double cost = t->cost[s->at[k] * t->athletes + i];
            if (less(cost, now) || (!less(now, cost) && s->at[k] < best))
                best = s->at[k];
        }
        of[i] =
            t->cost[best * t->athletes + i] < barred ? best : own_best(t, i);
    }
}

/* Every taper of a set in favour of the one preferred for those who have it. */
static void prefer_each(const Table *t, const size_t *of, Set *s) {
    for (size_t k = 0; k < s->tapers; k++) {
        Members m = members_of(t, of, s->at[k]);
        if (m.count > 0)
            s->at[k] = prefer(t, &m);
        free(m.who);
    }
}

static void find_common(Table *t, size_t *of) {
    bool bounded = t->task->rule == COMMON_BOUNDED;
    size_t most =
        bounded && t->task->most < COMMON_MOST ? t->task->most : COMMON_MOST;
    Set set;
    set_costs(t, true);
    set = find_set(t, most);
    if (bounded && set.total >= too_much) { /* somebody has to lose more */
        set_costs(t, false);
        set = find_set(t, most);
    }
    hand_out(t, &set, of);
    prefer_each(t, of, &set);
    hand_out(t, &set, of);
}

static void find_individual(Table *t, size_t *of) {
    set_costs(t, true);
    for (size_t i = 0; i < t->athletes; i++) {
        Members m = {.taper = own_best(t, i), .count = 1, .who = &i};
        of[i] = prefer(t, &m);
    }
}

/* ---- where nothing is known ---- */

/* How far from 8 days at half volume: in days, and in tenths of the volume. */
static double from_gentle(const Option *o) {
    double days = option_days(o);
    double cut = days > 0 ? option_cost(o) / days : 0;
    return fabs(days - 8) + fabs(10 * cut - 5);
}

/* The nearest option of one part; none at all only where there is no other. */
static void find_gentle(const Table *t, size_t *of) {
    for (size_t i = 0; i < t->athletes; i++) {
        double least = INFINITY;
        for (size_t o = 0; o < t->options; o++) {
            const Option *option = &t->ranked[o].option;
            double far = from_gentle(option) + 100 * abs(option->count - 1);
            if (!isnan(gain_at(t, o, i)) && far < least) {
                least = far;
                of[i] = o;
            }
        }
    }
}

/* ---- the answer ---- */

/* Different tapers, that of most athletes first, else in order of preference.
 */
static void count_tapers(const Table *t, const size_t *of, Common *c) {
    size_t *members = mem_new(t->options, sizeof *members);
    c->option = mem_new(t->athletes, sizeof *c->option);
    c->taper = mem_new(t->athletes, sizeof *c->taper);
    for (size_t i = 0; i < t->athletes; i++)
        members[of[i]]++;
    for (;;) {
        size_t most = 0;
        for (size_t o = 1; o < t->options; o++)
            if (members[o] > members[most])
                most = o;
        if (members[most] == 0)
            break;
        members[most] = 0;
        for (size_t i = 0; i < t->athletes; i++)
            if (of[i] == most)
                c->taper[i] = c->tapers;
        c->option[c->tapers++] = t->ranked[most].index;
    }
    free(members);
}

static void count_losses(const Table *t, const size_t *of, Common *c) {
    for (size_t i = 0; i < t->athletes; i++) {
        double loss = loss_of(t, of[i], i);
        c->lost += t->total > 0 ? loss / t->total : 0;
        if (t->possible[i] > 0)
            c->worst = fmax(c->worst, loss / t->possible[i]);
    }
}

void common_find(const CommonTask *task, Common *common) {
    size_t *of = mem_new(task->athletes, sizeof *of);
    Table t;
    *common = (Common){0};
    table_build(task, &t);
    if (task->rule == COMMON_UNKNOWN)
        find_gentle(&t, of);
    else if (task->rule == COMMON_INDIVIDUAL)
        find_individual(&t, of);
    else
        find_common(&t, of);
    count_tapers(&t, of, common);
    count_losses(&t, of, common);
    table_free(&t);
    free(of);
}

void common_free(Common *common) {
    free(common->option);
    free(common->taper);
    *common = (Common){0};
}
