/* hunt: random searches, and whether cuts hold the limits, reckoned once more.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_TAPER_HUNT_H
#define TESTS_TAPER_HUNT_H

#include "world.h"

#include "taper/score.h"
#include "taper/search.h"

#include <gsl/gsl_rng.h>

Limits random_limits(gsl_rng *rng);

/* Rises may forbid even the usual week. */
void random_rises(gsl_rng *rng, Limits *limits);

/* World, limits, score and what the search found. */
typedef struct {
    World *w;
    Limits limits;
    Score score;
    Search search;
    size_t length; /* [d] longest taper */
} Hunt;

void hunt_free(Hunt *h);

/* False when no option keeps the limits, which is what the search must say. */
bool hunt_try(Hunt *h, Aim aim);

void hunt_run(Hunt *h, Aim aim);

void hunt_open(gsl_rng *rng, Hunt *h);

void hunt_close(Hunt *h);

/* Load of any day under cuts: assumed, logged or planned. */
double own_any_load(const World *w, Date date, const double *cut);

/* Sessions of a day, all or only those that full rest takes away. */
int own_sessions(const World *w, Date date, bool going);

double own_session_cut(const Hunt *h);

/* How many sessions a block may lose; a block that is not all to come need not
 * keep more than it has. */
int own_spare(const Hunt *h, size_t from);

bool own_holds(const Hunt *h, const double *cut);

#endif
