/* points: see points.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/points.h"

#include "calibrate/lanes.h"

/* Degree, inner coefficients and first direction numbers of the polynomial of
 * each dimension from the second on. */
typedef struct {
    int degree, inner, first[5];
} Polynomial;

static const Polynomial polynomials[POINTS_DIMENSIONS - 1] = {
    {1, 0, {1}},
    {2, 1, {1, 3}},
    {3, 1, {1, 3, 1}},
    {3, 2, {1, 1, 1}},
    {4, 1, {1, 1, 3, 3}},
    {4, 4, {1, 3, 5, 13}},
    {5, 2, {1, 1, 5, 5, 17}},
    {5, 4, {1, 1, 5, 5, 5}}};

/* Direction numbers as fractions of 2^32. */
static void set_directions(const Polynomial *p, long long *v) {
    int d = p->degree;
    for (int i = 0; i < POINTS_BITS; i++) {
        if (i < d) {
            v[i] = (long long)p->first[i] << (POINTS_BITS - 1 - i);
            continue;
        }
        v[i] = v[i - d] ^ (v[i - d] >> d);
        for (int k = 1; k < d; k++)
            v[i] ^= (p->inner >> (d - 1 - k) & 1) * v[i - k];
    }
}

void points_start(Points *p, int dimensions) {
    *p = (Points){.dimensions = dimensions};
    for (int i = 0; i < POINTS_BITS; i++)
        p->direction[0][i] = 1LL << (POINTS_BITS - 1 - i);
    for (int k = 1; k < dimensions; k++)
        set_directions(&polynomials[k - 1], p->direction[k]);
}

/* The first of eight, and by what the others differ from it, as fractions of
 * 2^32. */
INSIDE void set_eight(const long long *v, long long number, Bits *x) {
    long long gray = number ^ (number >> 1), first = 0;
    for (int bit = 0; gray >> bit; bit++)
        first ^= (gray >> bit & 1) * v[bit];
    *x = (Bits){0,           v[0],        v[0] ^ v[1],
                v[1],        v[1] ^ v[2], v[0] ^ v[1] ^ v[2],
                v[0] ^ v[2], v[2]} ^
         first;
}

/* Between 0 and 1 by the bits of a number from 1 to 2. */
INSIDE void turn(const Bits *x, double shift, Lane *u) {
    const Lane none = {0}, least = none + 0x1p-36, most = 1 - least;
    Lane back;
    Bits all;
    *u = (Lane)((*x << (52 - POINTS_BITS)) | 0x3ff0000000000000) - 1 + shift;
    back = *u - 1;
    all = *u < 1;
    lane_choose(&all, u, &back);
    all = *u >= least;
    lane_choose(&all, u, &least);
    all = *u <= most;
    lane_choose(&all, u, &most);
}

WIDE void points_next(Points *p, double u[][POINTS_AT_ONCE]) {
    for (int k = 0; k < p->dimensions; k++)
        for (int i = 0; i < POINTS_AT_ONCE; i += LANES) {
            Bits x = {0};
            Lane some = {0};
            set_eight(p->direction[k], p->next + i, &x);
            turn(&x, p->shift[k], &some);
            lane_store(&some, LANES, u[k] + i);
        }
    p->next += POINTS_AT_ONCE;
}
