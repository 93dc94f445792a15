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

/* A function of each of `count` numbers, in place. */
INSIDE void lane_each(size_t count, double *x, void (*of)(Lane *x)) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane some;
        lane_load(x + i, count - i, &some);
        of(&some);
        lane_store(&some, count - i, x + i);
    }
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

/* e^x: x = k ln 2 + r, Taylor's series of e^r up to r^12, which is good to the
 * last digit but one for |r| < .35. 0 below -700, and as of 700 above that. */
INSIDE void lane_exp(Lane *x) {
    static const double to_integer = 0x1.8p52, log2_e = 0x1.71547652b82fep0;
    static const double ln2_high = 0x1.62e42feep-1; /* the rest is 0 */
    static const double ln2_low = 0x1.a39ef35793c76p-33;
    static const double over[] = {1. / 479001600,
                                  1. / 39916800,
                                  1. / 3628800,
                                  1. / 362880,
                                  1. / 40320,
                                  1. / 5040,
                                  1. / 720,
                                  1. / 120,
                                  1. / 24,
                                  1. / 6,
                                  1. / 2,
                                  1,
                                  1};
    const Lane none = {0}, most = none + 700;
    Bits there = *x >= -700, low = *x < 700;
    Lane k, r, sum = none + over[0];
    lane_choose(&there, x, &none);
    lane_choose(&low, x, &most);
    k = *x * log2_e + to_integer;
    r = k - to_integer;
    r = (*x - r * ln2_high) - r * ln2_low;
#pragma GCC unroll 12
    for (int i = 1; i < 13; i++)
        sum = sum * r + over[i];
    *x = (Lane)((Bits)sum + ((Bits)k << 52));
    lane_choose(&there, x, &none);
}

/* ln x of x > 0, no smaller than 1e-300: x = 2^k m with m about 1,
 * ln m = 2 artanh((m - 1)/(m + 1)) by its series. */
INSIDE void lane_log(Lane *x) {
    static const double to_integer = 0x1.8p52;
    static const double ln2_high = 0x1.62e42feep-1, /* the rest is 0 */
        ln2_low = 0x1.a39ef35793c76p-33;
    static const double over[] = {2. / 21, 2. / 19, 2. / 17, 2. / 15,
                                  2. / 13, 2. / 11, 2. / 9,  2. / 7,
                                  2. / 5,  2. / 3,  2};
    const Bits root_half = (Bits){0} + 0x3fe6a09e667f3bcd;
    const Bits magic = (Bits){0} + 0x4338000000000000;
    Bits k = ((Bits)*x - root_half) >> 52;
    Lane m = (Lane)((Bits)*x - (k << 52));
    Lane power = (Lane)(k + magic) - to_integer;
    Lane s = (m - 1) / (m + 1), square = s * s;
    Lane sum = square * over[0] + over[1];
#pragma GCC unroll 9
    for (int i = 2; i < 11; i++)
        sum = sum * square + over[i];
    *x = power * ln2_high + (s * sum + power * ln2_low);
}

/* Square root of x > 0, to the last digit but one: 1/sqrt(x) by four steps of
 * Newton's from a guess at its exponent. */
INSIDE void lane_root(Lane *x) {
    Lane y = (Lane)(0x5fe6eb50c7b537a9 - ((Bits)*x >> 1)), half = *x * .5;
#pragma GCC unroll 4
    for (int i = 0; i < 4; i++)
        y = y * (1.5 - half * y * y);
    *x *= y;
}

/* e^(x^2) erfc(x), x from 0: a polynomial in (x - 3.75)/(x + 3.75), divided by
 * 1 + 2 x (Shepherd, Laframboise 1981, Math Comp 36:249-253; from memory). The
 * coefficients were fitted to SciPy's erfcx at 200 Chebyshev nodes; off by
 * 1.2e-12 of the value at most. */
INSIDE void lane_erfcx(Lane *x) {
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
    Lane u = (*x - 3.75) / (*x + 3.75), sum = u * by[0] + by[1];
#pragma GCC unroll 15
    for (int i = 2; i < 17; i++)
        sum = sum * u + by[i];
    *x = sum / (1 + 2 * *x);
}

/* A quotient of polynomials of degree 7, highest power first. */
INSIDE void lane_quotient(const double above[8], const double below[8],
                          Lane *x) {
    Lane a = *x * above[0] + above[1], b = *x * below[0] + below[1];
#pragma GCC unroll 6
    for (int i = 2; i < 8; i++) {
        a = a * *x + above[i];
        b = b * *x + below[i];
    }
    *x = a / b;
}

/* The normal quantile of u, 2^-36 <= u <= 1 - 2^-36 (Wichura 1988, Appl Stat
 * 37:477-484, AS 241, PPND16 but for its farthest tail; from memory). */
INSIDE void lane_normal(Lane *u) {
    static const double inner_above[] = {
        2.5090809287301226727e+3, 3.3430575583588128105e+4,
        6.7265770927008700853e+4, 4.5921953931549871457e+4,
        1.3731693765509461125e+4, 1.9715909503065514427e+3,
        1.3314166789178437745e+2, 3.3871328727963666080e+0};
    static const double inner_below[] = {
        5.2264952788528545610e+3, 2.8729085735721942674e+4,
        3.9307895800092710610e+4, 2.1213794301586595867e+4,
        5.3941960214247511077e+3, 6.8718700749205790830e+2,
        4.2313330701600911252e+1, 1};
    static const double outer_above[] = {
        7.74545014278341407640e-4, 2.27238449892691845833e-2,
        2.41780725177450611770e-1, 1.27045825245236838258e+0,
        3.64784832476320460504e+0, 5.76949722146069140550e+0,
        4.63033784615654529590e+0, 1.42343711074968357734e+0};
    static const double outer_below[] = {
        1.05075007164441684324e-9, 5.47593808499534494600e-4,
        1.51986665636164571966e-2, 1.48103976427480074590e-1,
        6.89767334985100004550e-1, 1.67638483018380384940e+0,
        2.05319162663775882187e+0, 1};
    const Lane none = {0};
    Lane q = *u - .5, inner = .180625 - q * q, outer = 1 - *u, negative;
    Bits low = q < none, central = inner >= none;
    lane_choose(&low, u, &outer); /* the smaller tail */
    outer = *u;
    lane_log(&outer);
    outer = -outer;
    lane_root(&outer);
    outer -= 1.6;
    lane_quotient(outer_above, outer_below, &outer);
    negative = -outer;
    lane_choose(&low, &negative, &outer);
    lane_quotient(inner_above, inner_below, &inner);
    *u = q * inner;
    lane_choose(&central, u, &negative);
}

#endif
