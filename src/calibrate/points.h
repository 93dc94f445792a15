/* points: points spread evenly over a cube: Sobol's sequence, each dimension
 * shifted by a random amount (Cranley, Patterson 1976, SIAM J Numer Anal
 * 13:904-914; from memory).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POINTS_H
#define CALIBRATE_POINTS_H

#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>

enum { POINTS_MOST = 16 /* dimensions */ };

typedef struct {
    unsigned dimensions;
    gsl_qrng *sobol;
    double shift[POINTS_MOST];
} Points;

/* Takes a number of `rng` for each dimension, of which there is one or more. */
Points points_new(unsigned dimensions, gsl_rng *rng);
void points_free(Points *points);

/* The next point: numbers above 0 and below 1. */
void points_next(Points *points, double *u);
/* The same as standard normal numbers. */
void points_normal(Points *points, double *z);

/* GSL's Tausworthe generator, begun with a seed; to be freed. */
gsl_rng *points_rng(unsigned long seed);

#endif
