/* groups: see groups.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/groups.h"

#include "base/mem.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

enum { STARTS = 100 /* of an exchange */ };

/* Losses looked at before all sets give way to exchanges. */
#define MOST_WORK 2e7

/* What the search works on: the options that no other one outdoes. */
typedef struct {
    const LossTable *table;
    size_t *option; /* [count] indices into the table */
    size_t count;
    double *least; /* [athletes] workspace: least loss under other plans */
} Choice;

/* A set of plans while it is sought. */
typedef struct {
    size_t plans;
    size_t at[GROUPS_MOST]; /* indices into Choice.option */
    double total;
} Set;

static double loss_of(const Choice *c, size_t athlete, size_t at) {
    return c->table->loss[athlete * c->table->options + c->option[at]];
}

/* Nobody loses less under `b`; of two alike the first is kept. */
static bool outdone(const LossTable *t, size_t b, size_t a) {
    bool alike = true;
    for (size_t i = 0; i < t->athletes; i++) {
        double loss = t->loss[i * t->options + a];
        double other = t->loss[i * t->options + b];
        if (other < loss)
            return false;
        alike = alike && !(loss < other);
    }
    return !alike || a < b;
}

static void choice_build(const LossTable *t, Choice *c) {
    *c = (Choice){.table = t};
    c->option = mem_new(t->options, sizeof *c->option);
    c->least = mem_new(t->athletes, sizeof *c->least);
    for (size_t b = 0; b < t->options; b++) {
        bool keep = true;
        for (size_t k = 0; k < c->count && keep; k++)
            keep = !outdone(t, b, c->option[k]);
        for (size_t a = b + 1; a < t->options && keep; a++)
            keep = !outdone(t, b, a);
        if (keep)
            c->option[c->count++] = b;
    }
}

static void choice_free(Choice *c) {
    free(c->option);
    free(c->least);
}

/* Least loss of each athlete under the plans of a set but for one of them
 * (`without`; plans: all count). */
static void set_least(const Choice *c, const Set *s, size_t without) {
    for (size_t i = 0; i < c->table->athletes; i++) {
        c->least[i] = INFINITY;
        for (size_t p = 0; p < s->plans; p++)
            if (p != without)
                c->least[i] = fmin(c->least[i], loss_of(c, i, s->at[p]));
    }
}

/* Less by more than rounding; totals may be infinite. */
static bool less(double a, double b) {
    return a < b && (isinf(b) || a < b - 1e-12 * fabs(b));
}

/* Total with one plan more than those behind `least`. */
static double total_with(const Choice *c, size_t at) {
    double total = 0;
    for (size_t i = 0; i < c->table->athletes; i++)
        total += fmin(c->least[i], loss_of(c, i, at));
    return total;
}

/* Puts the best option at place `p` of the set, whose total may be INFINITY for
 * not known; false when what stands there is as good. */
static bool improve(const Choice *c, Set *s, size_t p) {
    bool better = false;
    set_least(c, s, p);
    for (size_t at = 0; at < c->count; at++) {
        double total = total_with(c, at);
        if (less(total, s->total)) {
            s->at[p] = at;
            s->total = total;
            better = true;
        }
    }
    return better;
}

/* Adds the plan that helps most. */
static void grow(const Choice *c, Set *s) {
    s->total = INFINITY;
    s->at[s->plans] = 0;
    s->plans++;
    improve(c, s, s->plans - 1);
}

/* Exchanges one plan at a time until nothing gets better. */
static void exchange(const Choice *c, Set *s) {
    bool better = true;
    while (better) {
        better = false;
        for (size_t p = 0; p < s->plans; p++)
            better = improve(c, s, p) || better;
    }
}

/* Every set of `plans` options that begins with those in `s`. */
static void try_sets(const Choice *c, Set *s, size_t plans, Set *best) {
    size_t from = s->plans ? s->at[s->plans - 1] + 1 : 0;
    if (s->plans + 1 == plans) {
        Set whole = *s;
        grow(c, &whole);
        if (less(whole.total, best->total))
            *best = whole;
        return;
    }
    s->plans++;
    for (size_t at = from; at < c->count; at++) {
        s->at[s->plans - 1] = at;
        try_sets(c, s, plans, best);
    }
    s->plans--;
}

/* Sets that try_sets() would go through. */
static double sets_of(const Choice *c, size_t plans) {
    double sets = 1;
    for (size_t p = 0; p + 1 < plans; p++)
        sets *= (double)(c->count - p) / (double)(p + 1);
    return sets;
}

static size_t own_best(const Choice *c, size_t athlete) {
    size_t best = 0;
    for (size_t at = 1; at < c->count; at++)
        if (loss_of(c, athlete, at) < loss_of(c, athlete, best))
            best = at;
    return best;
}

/* The same numbers every time: a linear congruential generator (Knuth 1997,
 * The Art of Computer Programming 2, 3.3.4, MMIX's constants; from memory). */
static size_t draw_below(uint64_t *state, size_t count) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (size_t)((*state >> 33) % count);
}

/* Starts: the best set of one plan fewer with one more; then any options, and
 * the own best of any athletes, by turns. */
static Set by_exchange(const Choice *c, const Set *fewer) {
    Set best = *fewer;
    uint64_t state = 1;
    grow(c, &best);
    exchange(c, &best);
    for (int start = 0; start < STARTS; start++) {
        Set set = {.total = INFINITY};
        while (set.plans <= fewer->plans)
            set.at[set.plans++] =
                start % 2 ? own_best(c, draw_below(&state, c->table->athletes))
                          : draw_below(&state, c->count);
        exchange(c, &set);
        if (less(set.total, best.total))
            best = set;
    }
    return best;
}

/* The best set of one plan more. */
static Set one_more(const Choice *c, const Set *fewer) {
    size_t plans = fewer->plans + 1;
    Set best = {.total = INFINITY}, empty = {0};
    if (plans > 2 &&
        sets_of(c, plans) * (double)c->count * (double)c->table->athletes >
            MOST_WORK)
        return by_exchange(c, fewer);
    try_sets(c, &empty, plans, &best);
    return best;
}

/* As few plans as lose least. */
static Set find_set(const Choice *c, size_t most) {
    Set best = {0};
    grow(c, &best);
    while (best.plans < most && best.plans < c->count) {
        Set more = one_more(c, &best);
        if (!less(more.total, best.total))
            break;
        best = more;
    }
    return best;
}

/* Gives each athlete the plan under which she loses least; drops plans that
 * nobody has, puts the largest first. */
static void hand_out(const LossTable *t, Groups *g) {
    size_t members[GROUPS_MOST] = {0}, place[GROUPS_MOST] = {0};
    size_t option[GROUPS_MOST] = {0}, plans = 0;
    bool placed[GROUPS_MOST] = {false};
    g->total = 0;
    for (size_t i = 0; i < t->athletes; i++) {
        const double *loss = t->loss + i * t->options;
        g->plan[i] = 0;
        for (size_t p = 1; p < g->plans; p++)
            if (loss[g->option[p]] < loss[g->option[g->plan[i]]])
                g->plan[i] = p;
        members[g->plan[i]]++;
        g->total += loss[g->option[g->plan[i]]];
    }
    for (size_t k = 0; k < g->plans; k++) {
        size_t largest = g->plans;
        for (size_t p = 0; p < g->plans; p++)
            if (!placed[p] && members[p] > 0 &&
                (largest == g->plans || members[p] > members[largest]))
                largest = p;
        if (largest == g->plans)
            break;
        placed[largest] = true;
        place[largest] = plans;
        option[plans++] = g->option[largest];
    }
    g->plans = plans;
    for (size_t p = 0; p < plans; p++)
        g->option[p] = option[p];
    for (size_t i = 0; i < t->athletes; i++)
        g->plan[i] = place[g->plan[i]];
}

void groups_find(const LossTable *table, size_t most, Groups *g) {
    Choice choice;
    Set set;
    choice_build(table, &choice);
    set = find_set(&choice, most < GROUPS_MOST ? most : GROUPS_MOST);
    *g = (Groups){.plans = set.plans};
    g->plan = mem_new(table->athletes, sizeof *g->plan);
    for (size_t p = 0; p < set.plans; p++)
        g->option[p] = choice.option[set.at[p]];
    hand_out(table, g);
    choice_free(&choice);
}

void groups_free(Groups *g) {
    free(g->plan);
    *g = (Groups){0};
}

/* What the members of a plan keep under an option; -INFINITY when one of them
 * would lose too much. */
static double kept_under(const LossTable *t, const double *kept,
                         const double *slack, const Groups *g, size_t plan,
                         size_t option) {
    double sum = 0;
    for (size_t i = 0; i < t->athletes; i++) {
        const double *loss = t->loss + i * t->options;
        if (g->plan[i] != plan)
            continue;
        if (loss[option] > slack[i] && loss[option] > loss[g->option[plan]])
            return -INFINITY;
        sum += kept[i * t->options + option];
    }
    return sum;
}

void groups_keep_most(const LossTable *t, const double *kept,
                      const double *slack, Groups *g) {
    for (size_t p = 0; p < g->plans; p++) {
        size_t best = g->option[p];
        double most = kept_under(t, kept, slack, g, p, best);
        for (size_t o = 0; o < t->options; o++) {
            double sum = kept_under(t, kept, slack, g, p, o);
            if (sum > most + 1e-9) {
                most = sum;
                best = o;
            }
        }
        g->option[p] = best;
    }
    hand_out(t, g);
}
