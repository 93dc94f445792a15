/* points: quasi-random points between 0 and 1, some at a time.
 *
 * GSL's Sobol sequence (Bratley, Fox 1988, ACM Trans Math Softw 14:88-100, as
 * GSL's manual says), each point shifted modulo 1 by the same random amounts
 * (Cranley, Patterson 1976, SIAM J Numer Anal 13:904-914; from memory).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POINTS_H
#define CALIBRATE_POINTS_H

#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>

enum { POINTS_DIMENSIONS = 9, POINTS_AT_ONCE = 64 };

typedef struct {
    int dimensions;
    gsl_qrng *sequence;
    double shift[POINTS_DIMENSIONS]; /* from 0, below 1 */
} Points;

/* Free with points_free(). */
void points_start(Points *points, int dimensions, gsl_rng *rng);
/* The next ones: u[dimension][point], 2^-36 <= u <= 1 - 2^-36. */
void points_next(Points *points, double u[][POINTS_AT_ONCE]);
void points_free(Points *points);

#endif
