/* squad_hear: see squad_hear.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/squad_hear.h"

#include "base/mem.h"
#include "calibrate/rounds.h"
#include "cases/each.h"
#include "cases/models.h"
#include "cases/squad_prior.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Pools differ by nothing but what athletes say: another --seed is none of
 * their business. */
enum { POOL_SEED = 1 };

typedef struct {
    EachAthlete one;
    OwnTests own;
    Trail *trail;
} Slot;

typedef struct {
    Context *context;
    SquadPrior *prior;
} Job;

static void hear(void *with, EachAthlete *one) {
    Slot *slot = (Slot *)one;
    Status status = {0};
    (void)with;
    if (models_own_tests(&one->context, &one->c, &slot->own) &&
        models_trail(&one->context, &one->c, &slot->own, NULL, &slot->trail,
                     &status) != STATUS_OK) {
        trail_free(slot->trail);
        slot->trail = NULL;
    }
}

/* The mean and the spread of the literature's shape, both of the log. */
static Pool *new_pool(const Model *m) {
    static const Param params[] = {PARAM_TAU1, PARAM_TAU2, PARAM_RATIO};
    double mean[SHAPE_POOLED], spread[SHAPE_POOLED];
    for (int d = 0; d < SHAPE_POOLED; d++) {
        mean[d] = log(m->params.value[params[d]]);
        spread[d] = m->spread[params[d]];
    }
    return pool_new(mean, spread, POOL_SEED);
}

static bool take(void *with, EachAthlete *one) {
    Job *job = with;
    Slot *slot = (Slot *)one;
    size_t athlete = one->c.athlete;
    size_t squad = job->context->season->athletes[athlete].squad;
    Pool **pool = &job->prior->pool[squad];
    if (slot->trail) {
        ShapeSample sample = rounds_sample(slot->trail);
        if (!*pool)
            *pool = new_pool(models_prior(&one->context, &one->c));
        job->prior->voice[athlete] = pool_add(*pool, &sample);
    }
    trail_free(slot->trail);
    models_own_free(&slot->own);
    return true;
}

typedef struct {
    const char *name;
    size_t athlete;
} Named;

/* By name, so that it does not hang on the order of rows. */
static int by_name(const void *a, const void *b) {
    return strcmp(((const Named *)a)->name, ((const Named *)b)->name);
}

/* Has tests, and no model that was asked for. */
static bool speaks(const Context *d, size_t athlete, size_t squad) {
    const Athlete *a = &d->season->athletes[athlete];
    return a->squad == squad && a->test_count > 0 && a->session_count > 0 &&
           !models_asked(d, athlete);
}

/* Those who are heard: of a large squad some, evenly. */
static size_t choose(const Context *d, size_t *chosen) {
    const Season *s = d->season;
    size_t n = s->athlete_count, count = 0;
    Named *order = mem_new(n, sizeof *order);
    for (size_t i = 0; i < n; i++)
        order[i] = (Named){s->athletes[i].name, i};
    qsort(order, n, sizeof *order, by_name);
    for (size_t squad = 0; squad < s->squad_names.count; squad++) {
        size_t members = 0, place = 0;
        for (size_t k = 0; k < n; k++)
            members += speaks(d, order[k].athlete, squad);
        for (size_t k = 0; k < n; k++)
            if (speaks(d, order[k].athlete, squad) &&
                pool_hears(place++, members))
                chosen[count++] = order[k].athlete;
    }
    free(order);
    return count;
}

static void hear_all(Job *job) {
    Context all = *job->context;
    EachJob each = {.doing = "tests of the squad read",
                    .slot = sizeof(Slot),
                    .work = hear,
                    .take = take,
                    .with = job};
    all.own_later = true;
    all.chosen = mem_new(all.season->athlete_count, sizeof *all.chosen);
    all.chosen_count = choose(job->context, all.chosen);
    if (all.chosen_count > 0 && !all.question->alone)
        each_aside(job->context, &all, &each);
    free(all.chosen);
}

void squad_hear(Context *d) {
    SquadPrior *p = d->squad_prior = squad_prior_new(d->season);
    Job job = {d, p};
    hear_all(&job);
    for (size_t k = 0; k < p->squads; k++)
        if (p->pool[k])
            pool_settle(p->pool[k]);
}
