/* reduced: the separable problem as a function of its shapes alone. At each set
 * of shapes the level is the weighted mean of what the gains leave, and the
 * gains, from 0 where they must be, are the best of all active sets, each by
 * its normal equations about the weighted means: the reduced functional of
 * variable projection (Golub, Pereyra 1973, SIAM J Numer Anal 10:413-432; from
 * memory).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_REDUCED_H
#define CALIBRATE_REDUCED_H

#include "calibrate/separable.h"

/* Shapes with the level, gains and weighted residual sum at them. */
typedef struct {
    double level, gain[SEPARABLE_GAINS], shape[SEPARABLE_SHAPES];
    double rss;
} ReducedPoint;

enum { REDUCED_MANY = 32 }; /* points at once: 27 along three axes */

/* The problem with room for its columns at one point, and at many. */
typedef struct {
    const Separable *p;
    double *column[SEPARABLE_GAINS], *slope[SEPARABLE_SHAPES];
    double *left;  /* what a point leaves of each value */
    double *shape; /* at which column and slope are; NAN: no slopes */
    double *many[SEPARABLE_GAINS];
} Reduced;

/* Weighted means, 0 without a level, and sums of products about them. */
typedef struct {
    double y, x[SEPARABLE_GAINS];
    double yy, xy[SEPARABLE_GAINS];
    double xx[SEPARABLE_GAINS][SEPARABLE_GAINS]; /* [k][m], m <= k */
} ReducedSums;

void reduced_start(Reduced *w, const Separable *p);
void reduced_free(Reduced *w);

/* The upper bound of a shape: its own or that below another. */
double reduced_upper(const Separable *p, int i, const double *shape);
bool reduced_inside(const Separable *p, const double *shape);
/* -1 at the lower bound, 1 at the upper one, else 0. */
int reduced_bound_at(const Separable *p, const double *shape, int i);
/* Moves shapes by logarithms, as far as the bounds let them. */
void reduced_move(const Separable *p, const double *by, double *shape);
/* Are all gains that must be from 0 on? */
bool reduced_allowed(const Separable *p, const double *gain);

/* Columns at some shapes, unless they are there. */
void reduced_columns(const Reduced *w, const double *shape, bool slopes);
/* Columns at up to REDUCED_MANY points. */
void reduced_columns_many(const Reduced *w, const ReducedPoint *x,
                          size_t count);
/* As if the n-th of these points had been asked for alone. */
Reduced reduced_one(const Reduced *w, size_t n);

/* Of the columns that are there. */
ReducedSums reduced_sums(const Reduced *w);
/* Level, gains and residual sum: the best of all active sets. */
void reduced_solve_sums(const Separable *p, const ReducedSums *s,
                        ReducedPoint *x);
/* The same at the point's shapes; of up to REDUCED_MANY points. */
void reduced_solve(const Reduced *w, bool slopes, ReducedPoint *x);
void reduced_solve_many(const Reduced *w, ReducedPoint *x, size_t count);

#endif
