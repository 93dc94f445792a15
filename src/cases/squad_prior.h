/* squad_prior: what the tests of a squad's athletes tell of each other's shape
 * (calibrate/pool.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_SQUAD_PRIOR_H
#define CASES_SQUAD_PRIOR_H

#include "calibrate/pool.h"
#include "cases/case.h"

struct SquadPrior {
    size_t squads;
    Pool **pool;   /* [squads] NULL: nobody has tests */
    size_t *voice; /* [athletes] in their squad's pool */
};

/* Nobody is heard yet. */
SquadPrior *squad_prior_new(const Season *season);
void squad_prior_free(SquadPrior *prior);

/* The prior of an athlete's shape; false: the literature's alone, and each
 * member of its family by the athlete's own tests. */
bool squad_prior_of(const Context *context, size_t athlete, ShapePrior *prior);

#endif
