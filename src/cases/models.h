/* models: the models of a question: files and presets, each read once, and
 * those of the athletes' own tests.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_MODELS_H
#define CASES_MODELS_H

#include "calibrate/posterior.h"
#include "cases/athlete_tests.h"
#include "cases/case.h"

/* Frees those of the context, not those it has borrowed. */
void models_free(Context *d);
void models_free_kept(Context *d);

/* The context owns it from now on. */
void models_add(Context *d, CaseModel *entry);

/* Index of a model by name or file; each is read once. */
size_t models_named(Context *d, const char *asked);

/* --model, or that of athletes.csv; NULL: neither. */
const char *models_asked(const Context *d, size_t athlete);

/* The model of the case becomes that of its own tests, of which this is the
 * posterior, unless another was asked for. */
void models_take_own(Context *context, Case *c, const AthleteTests *own,
                     const Posterior *posterior);

/* A graded model as it is for the case's athlete, whose mean daily load of the
 * log settles its gains; the same index for other kinds. */
size_t models_settled(Context *d, const Case *c, size_t named);

enum { OWN_KINDS = 8 /* of test that are used together */ };

/* All tests of an athlete; the first kind's unit is shown: that of --test, else
 * the one with most tests. */
typedef struct {
    size_t kinds;
    AthleteTests tests[OWN_KINDS];
    TestGroup group[OWN_KINDS];
    PosteriorAsked asked; /* by models_trail() */
} OwnTests;

/* False when there are none, or they can tell nothing (said as a warning). To
 * be freed; must not be moved while a trail of it lives. */
bool models_own_tests(Context *d, const Case *c, OwnTests *own);
/* `squad`: what their squad says, as long as the trail; NULL: nothing. */
StatusCode models_trail(Context *d, const Case *c, OwnTests *own,
                        const ShapePrior *squad, Trail **trail, Status *status);
void models_own_free(OwnTests *own);

/* What all of an athlete's tests say, in the light of their squad's; false with
 * a warning. */
bool models_own_posterior(Context *d, const Case *c, OwnTests *own,
                          Posterior *posterior);

/* Index of the case's model; each file is read once. */
size_t models_of(Context *d, const Case *c);

/* The model that is the prior of an athlete's tests: --model, their own, or the
 * literature. */
const Model *models_prior(Context *context, const Case *c);

/* Do readings of both mean the same: one unit, the same way better? */
bool models_same_unit(const Model *a, const Model *b);

#endif
