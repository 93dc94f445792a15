/* squad_plans: as few plans for a squad as lose little.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_SQUAD_PLANS_H
#define ANSWERS_SQUAD_PLANS_H

#include "answers/best_taper.h"
#include "taper/common.h"

enum { SQUAD_PLANS_MOST = 8 };

/* An option and its place among those of all. It comes first, so that
 * option_order() orders these too. */
typedef struct {
    Option option;
    size_t at;
} ListedOption;

/* The athletes on the way to one event whom a taper helps. */
typedef struct {
    const BestTaper **v;
    size_t count;
    const BestTaper **left; /* whom no taper helps */
    size_t left_count;
    const BestTaper **unknown; /* of whom nothing is known (squad_tapers.h): who
                                  have the published taper, in no group */
    size_t unknown_count;
    Option *option;       /* of any of them, in order of preference */
    ListedOption *listed; /* the same by option_order() */
    size_t options;
    double *gain;  /* [count * options] -INFINITY: not within their limits */
    double *loss;  /* [count * options] share of the possible gain */
    double *kept;  /* [count * options] share of the planned load */
    size_t *own;   /* [count] their best option */
    double *slack; /* [count] a loss that a common plan may cost them */
    Common groups[SQUAD_PLANS_MOST]; /* groups[n - 1]: at most n plans */
    size_t most;                     /* plans looked at */
} SquadPlans;

typedef enum { WORTH_NO, WORTH_UNSURE, WORTH_YES } Worth;

typedef struct {
    size_t option, plan;
    double loss, low, high; /* share of the possible gain; the interval is that
                               of the likely models, NAN without draws */
    double better;          /* share of them in which their own is better */
    Worth worth;            /* a plan of their own */
} Lot;

void squad_plans_build(const BestTaper *all, size_t count, const Event *event,
                       size_t most, SquadPlans *s);

void squad_plans_free(SquadPlans *s);

Lot squad_plans_lot(const SquadPlans *s, const Common *g, size_t i);

/* How many have this answer with at most n plans. */
size_t squad_plans_count(const SquadPlans *s, size_t n, Worth worth);

/* The fewest plans with which nobody has an answer above `worth`; 0: more than
 * were looked at. */
size_t squad_plans_enough(const SquadPlans *s, Worth worth);

/* More plans than leave everybody within what can be told apart are of no
 * use. */
void squad_plans_settle(SquadPlans *s);

#endif
