/* points: quasi-random points between 0 and 1, side by side.
 *
 * A Sobol sequence (Sobol' 1967, USSR Comput Math Math Phys 7:86-112; direction
 * numbers of Joe, Kuo 2008, SIAM J Sci Comput 30:2635-2654; from memory), its
 * points in the order of the Gray code (Antonov, Saleev 1979), each shifted
 * modulo 1 by the same random amounts (Cranley, Patterson 1976, SIAM J Numer
 * Anal 13:904-914; from memory).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POINTS_H
#define CALIBRATE_POINTS_H

#include <stddef.h>

enum { POINTS_DIMENSIONS = 9, POINTS_AT_ONCE = 64, POINTS_BITS = 32 };

typedef struct {
    int dimensions;
    long long next; /* number of the next point */
    long long direction[POINTS_DIMENSIONS][POINTS_BITS];
    double shift[POINTS_DIMENSIONS]; /* from 0, below 1 */
} Points;

/* The shifts are 0. */
void points_start(Points *points, int dimensions);
/* The next ones: u[dimension][point], 2^-36 <= u <= 1 - 2^-36. */
void points_next(Points *points, double u[][POINTS_AT_ONCE]);

#endif
