/* what_if: what tapers of every length and cut would bring one athlete, for
 * whoever wants to move them by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_WHAT_IF_H
#define ANSWERS_WHAT_IF_H

#include "answers/best_taper.h"

enum {
    WHAT_IF_DAYS = 28, /* lengths 1 to 28 d */
    WHAT_IF_CUTS = 16, /* 25, 30 ... 100 % */
    WHAT_IF_LEAST = 25,
    WHAT_IF_STEP = 5,
    WHAT_IF_SHAPES = 3 /* step, straight-line and exponential fall */
};

typedef struct {
    bool there;             /* there is such a taper, and days enough */
    bool outside;           /* of the limits */
    double gain, low, high; /* as what_if_unit() says; the 90 % range is NAN
                               where nothing is uncertain, and of falls of
                               the lowest of several days where the model is
                               not linear */
    double helps;           /* share of the likely models; NAN with the range */
} WhatIfCell;

typedef struct {
    const BestTaper *v;
    size_t days;  /* longest looked at */
    bool percent; /* of readiness without a taper; else of the largest gain
                     possible */
    WhatIfCell cell[WHAT_IF_SHAPES][WHAT_IF_DAYS][WHAT_IF_CUTS];
} WhatIf;

/* `limits` are those of the search. */
void what_if_build(const BestTaper *v, WhatIf *table);

/* A gain in the table's unit [%]; NAN where nothing can be gained. */
double what_if_unit(const WhatIf *table, double gain);

/* The place on the sliders that is nearest to an option: days, index of the
 * cut, shape. */
void what_if_place(const WhatIf *table, const Option *option, size_t *days,
                   size_t *cut, size_t *shape);

#endif
