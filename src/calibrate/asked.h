/* asked: what a posterior is asked.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_ASKED_H
#define CALIBRATE_ASKED_H

#include "calibrate/marginal.h"
#include "calibrate/pool.h"
#include "response/model.h"

/* One kind of test of an athlete. */
typedef struct {
    const TestData *data; /* may have no tests, but always the timeline */
    PosteriorPrior prior;
} TestGroup;

typedef struct {
    const Model *model;      /* kind, and prior of the shape */
    const TestGroup *kind;   /* all of one timeline */
    size_t kinds;            /* 1 or more; the first one's unit is that of the
                                draws */
    const ShapePrior *squad; /* of the shape, which then also says what each
                                member of the family weighs; NULL: the model's
                                alone, and each member by its own evidence */
    bool scale_drawn; /* without tests: is the scale drawn from its prior? Else
                         it is its mean */
    unsigned long seed;
} PosteriorAsked;

enum {
    POSTERIOR_LEAST = 200, /* effective draws below which it is not to be
                              relied on */
    POSTERIOR_SEED = 1     /* of commands: the shapes tried are a fixed
                              quadrature, so that no advice hangs on --seed */
};

/* Every shape that a run has tried (trail.h). */
typedef struct Trail Trail;
void trail_free(Trail *trail);

#endif
