/* squad_prior: what the tests of a squad's athletes tell of each other's shape
 * (calibrate/pool.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_SQUAD_PRIOR_H
#define CASES_SQUAD_PRIOR_H

#include "calibrate/shape_prior.h"
#include "cases/case.h"

/* Hears everybody of the season who has tests and no model asked for, whoever
 * was asked for, each in their squad; nothing where the question says so
 * (--pool none). Fills context->squad_prior. */
void squad_prior_build(Context *context);
void squad_prior_free(SquadPrior *prior);

/* The prior of an athlete's shape; false: the literature's alone, and each
 * member of its family by the athlete's own tests. */
bool squad_prior_of(const Context *context, size_t athlete, ShapePrior *prior);

#endif
