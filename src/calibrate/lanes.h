/* lanes: eight numbers side by side, and functions of them that give the same
 * bytes on every processor (base/wide.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_LANES_H
#define CALIBRATE_LANES_H

#include "base/wide.h"

#include <stddef.h>
#include <string.h>

enum { LANES = 8 };
typedef double Lane __attribute__((vector_size(LANES * sizeof(double))));
typedef long long Bits __attribute__((vector_size(LANES * sizeof(long long))));

/* As many as are left; 1 in the other lanes. */
INSIDE void lane_load(const double *from, size_t left, Lane *to) {
    *to = (Lane){1, 1, 1, 1, 1, 1, 1, 1};
    if (left >= LANES)
        memcpy(to, from, sizeof *to);
    else
        memcpy(to, from, left * sizeof *from);
}

INSIDE void lane_store(const Lane *from, size_t left, double *to) {
    if (left >= LANES)
        memcpy(to, from, sizeof *from);
    else
        memcpy(to, from, left * sizeof *to);
}

/* x where `where` is set, else y; into x. */
INSIDE void lane_choose(const Bits *where, Lane *x, const Lane *y) {
    *x = (Lane)((*where & (Bits)*x) | (~*where & (Bits)*y));
}

/* Always in the same order. */
INSIDE double lane_sum(const Lane *x) {
    double v[LANES];
    memcpy(v, x, sizeof v);
    return ((v[0] + v[4]) + (v[1] + v[5])) + ((v[2] + v[6]) + (v[3] + v[7]));
}

INSIDE double lane_highest(const Lane *x) {
    double v[LANES];
    memcpy(v, x, sizeof v);
#pragma GCC unroll 3
    for (int half = LANES / 2; half > 0; half /= 2)
        for (int i = 0; i < half; i++)
            v[i] = v[i] > v[i + half] ? v[i] : v[i + half];
    return v[0];
}

/* The functions below take some lanes together, and even and odd powers of a
 * polynomial, so that the processor need not wait for one step before the next;
 * `count` is a constant where they are called. */

/* e^x: x = k ln 2 + r, Taylor's series of e^r up to r^10, which is good to
 * 2.4e-13 for |r| < .35. 0 below -700, and as of 700 above that. */
INSIDE void lanes_exp(int count, Lane *x) {
    static const double to_integer = 0x1.8p52, log2_e = 0x1.71547652b82fep0;
    static const double ln2_high = 0x1.62e42feep-1; /* the rest is 0 */
    static const double ln2_low = 0x1.a39ef35793c76p-33;
    static const double over[] = {
        1. / 3628800, 1. / 362880, 1. / 40320, 1. / 5040, 1. / 720, 1. / 120,
        1. / 24,      1. / 6,      1. / 2,     1,         1};
    const Lane none = {0}, most = none + 700;
    Lane k[LANES], r[LANES], square[LANES], even[LANES], odd[LANES];
    Bits there[LANES];
#pragma GCC unroll 8
    for (int n = 0; n < count; n++) {
        Bits low = x[n] < 700;
        there[n] = x[n] >= -700;
        lane_choose(&there[n], &x[n], &none);
        lane_choose(&low, &x[n], &most);
        k[n] = x[n] * log2_e + to_integer;
        r[n] = k[n] - to_integer;
        r[n] = (x[n] - r[n] * ln2_high) - r[n] * ln2_low;
        square[n] = r[n] * r[n];
        even[n] = square[n] * over[0] + over[2];
        odd[n] = none + over[1];
    }
#pragma GCC unroll 4
    for (int i = 3; i < 11; i += 2)
#pragma GCC unroll 8
        for (int n = 0; n < count; n++) {
            odd[n] = odd[n] * square[n] + over[i];
            even[n] = even[n] * square[n] + over[i + 1];
        }
#pragma GCC unroll 8
    for (int n = 0; n < count; n++) {
        even[n] += r[n] * odd[n];
        x[n] = (Lane)((Bits)even[n] + ((Bits)k[n] << 52));
        lane_choose(&there[n], &x[n], &none);
    }
}

INSIDE void lane_exp(Lane *x) {
    lanes_exp(1, x);
}

/* 1 over the square root of x > 0, to 4e-11 of it: three steps of Newton's from
 * a guess at its exponent. */
INSIDE void lanes_over_root(int count, Lane *x) {
    Lane y[LANES];
#pragma GCC unroll 8
    for (int n = 0; n < count; n++)
        y[n] = (Lane)(0x5fe6eb50c7b537a9 - ((Bits)x[n] >> 1));
#pragma GCC unroll 3
    for (int i = 0; i < 3; i++)
#pragma GCC unroll 8
        for (int n = 0; n < count; n++)
            y[n] = y[n] * (1.5 - .5 * x[n] * y[n] * y[n]);
#pragma GCC unroll 8
    for (int n = 0; n < count; n++)
        x[n] = y[n];
}

/* e^(x^2) erfc(x), x from 0: a polynomial in (x - 3.75)/(x + 3.75), divided by
 * 1 + 2 x (Shepherd, Laframboise 1981, Math Comp 36:249-253; from memory). The
 * coefficients were fitted to SciPy's erfcx at 200 Chebyshev nodes; off by
 * 1.2e-12 of the value at most. */
INSIDE void lanes_erfcx(int count, Lane *x) {
    static const double by[] = {
        9.4003765269689805e-07,  -1.0351587038215342e-06,
        -1.0112556594776807e-05, 2.2403791964618846e-05,
        5.0390384182774532e-05,  -0.00029013584191107456,
        0.00029442629650328067,  0.0017556055751915506,
        -0.0097468198177958348,  0.028362285503245672,
        -0.058693352734062954,   0.092304319657215611,
        -0.10880393454693549,    0.082276738608721062,
        0.0035854156489106143,   -0.14024059858819415,
        1.2375126308368258};
    Lane u[LANES], square[LANES], even[LANES], odd[LANES];
#pragma GCC unroll 8
    for (int n = 0; n < count; n++) {
        u[n] = (x[n] - 3.75) / (x[n] + 3.75);
        square[n] = u[n] * u[n];
        even[n] = square[n] * by[0] + by[2];
        odd[n] = square[n] * by[1] + by[3];
    }
#pragma GCC unroll 6
    for (int i = 4; i < 16; i += 2)
#pragma GCC unroll 8
        for (int n = 0; n < count; n++) {
            even[n] = even[n] * square[n] + by[i];
            odd[n] = odd[n] * square[n] + by[i + 1];
        }
#pragma GCC unroll 8
    for (int n = 0; n < count; n++) {
        even[n] = even[n] * square[n] + by[16] + odd[n] * u[n];
        x[n] = even[n] / (1 + 2 * x[n]);
    }
}

#endif
