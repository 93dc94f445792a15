/* squad_prior: see squad_prior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/squad_prior.h"

#include "base/mem.h"

#include <stdlib.h>

SquadPrior *squad_prior_new(const Season *s) {
    SquadPrior *p = mem_new(1, sizeof *p);
    p->squads = s->squad_names.count;
    p->pool = mem_new(p->squads, sizeof *p->pool);
    p->voice = mem_new(s->athlete_count, sizeof *p->voice);
    for (size_t i = 0; i < s->athlete_count; i++)
        p->voice[i] = POOL_STRANGER;
    return p;
}

void squad_prior_free(SquadPrior *p) {
    if (!p)
        return;
    for (size_t k = 0; k < p->squads; k++)
        pool_free(p->pool[k]);
    free(p->pool);
    free(p->voice);
    free(p);
}

bool squad_prior_of(const Context *d, size_t athlete, ShapePrior *prior) {
    const SquadPrior *p = d->squad_prior;
    size_t squad = d->season->athletes[athlete].squad;
    if (!p || !p->pool[squad])
        return false;
    pool_prior(p->pool[squad], p->voice[athlete], prior);
    return true;
}
