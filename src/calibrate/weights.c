/* weights: see weights.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/weights.h"

#include "base/mem.h"
#include "base/wide.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void known_add(const TestData *d, size_t i, Known *known) {
    double y = d->value[i] - d->value[0];
    known->w += d->weight[i];
    known->y += d->weight[i] * y;
    known->yy += d->weight[i] * y * y;
    known->tests++;
}

/* ---- columns ---- */

enum { COLUMNS = 10 };

static void columns_of(Weights *w, double **at[COLUMNS]) {
    double **all[COLUMNS] = {
        &w->z,         &w->zz,    &w->zy,    &w->spread, &w->log_sigma,
        &w->precision, &w->prior, &w->share, &w->factor, &w->weight};
    memcpy(at, all, sizeof all);
}

void weights_room(Weights *w, size_t need) {
    double **column[COLUMNS];
    size_t room = w->room;
    columns_of(w, column);
    for (int k = 0; k < COLUMNS; k++) {
        room = w->room;
        *column[k] = mem_grow(*column[k], &room, need, sizeof **column[k]);
    }
    w->room = room;
}

void weights_free(Weights *w) {
    double **column[COLUMNS];
    columns_of(w, column);
    for (int k = 0; k < COLUMNS; k++)
        free(*column[k]);
    *w = (Weights){0};
}

/* ---- eight side by side ---- */

enum { LANES = 8 };
typedef double Lane __attribute__((vector_size(LANES * sizeof(double))));
typedef long long Bits __attribute__((vector_size(LANES * sizeof(long long))));

/* As many as are left; 1 in the other lanes. */
INSIDE void load(const double *from, size_t used, Lane *to) {
    *to = (Lane){1, 1, 1, 1, 1, 1, 1, 1};
    if (used >= LANES)
        memcpy(to, from, sizeof *to);
    else
        memcpy(to, from, used * sizeof *from);
}

INSIDE void store(const Lane *from, size_t used, double *to) {
    if (used >= LANES)
        memcpy(to, from, sizeof *from);
    else
        memcpy(to, from, used * sizeof *to);
}

/* x where `where` is set, else y; into x. */
INSIDE void choose(const Bits *where, Lane *x, const Lane *y) {
    *x = (Lane)((*where & (Bits)*x) | (~*where & (Bits)*y));
}

/* e^x: x = k ln 2 + r, Taylor's series of e^r up to r^12, which is good to the
 * last digit but one for |r| < .35. */
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
    choose(&there, x, &none);
    choose(&low, x, &most);
    k = *x * log2_e + to_integer;
    r = k - to_integer;
    r = (*x - r * ln2_high) - r * ln2_low;
#pragma GCC unroll 12
    for (int i = 1; i < 13; i++)
        sum = sum * r + over[i];
    *x = (Lane)((Bits)sum + ((Bits)k << 52));
    choose(&there, x, &none);
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

WIDE void weights_exp(size_t count, double *x) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane some;
        load(x + i, count - i, &some);
        lane_exp(&some);
        store(&some, count - i, x + i);
    }
}

/* ---- likelihood ---- */

Inner weights_inner(const Known *known, const Sums *sums, double spread,
                    double precision, double effect) {
    double z = sums->z / known->w, y = known->y / known->w;
    double xx = fmax(0, sums->zz - sums->z * z) / (spread * spread);
    double xy = (sums->zy - sums->z * y) / spread;
    Inner in = {z, y, known->w, 0, 0};
    in.lambda = xx * precision + 1 / (effect * effect);
    in.mu = xy * precision / in.lambda;
    return in;
}

/* mu and lambda of weights_inner(). */
INSIDE void inner_some(const Weights *w, size_t i, const Known *known,
                       double effect, Lane *mu, Lane *lambda) {
    const Lane none = {0};
    Lane z, zz, zy, spread, precision;
    Bits some;
    size_t left = w->count - i;
    load(w->z + i, left, &z);
    load(w->zz + i, left, &zz);
    load(w->zy + i, left, &zy);
    load(w->spread + i, left, &spread);
    load(w->precision + i, left, &precision);
    zz -= z * (z / known->w);
    some = zz > none;
    choose(&some, &zz, &none);
    *lambda = zz / (spread * spread) * precision + 1 / (effect * effect);
    *mu = (zy - z * (known->y / known->w)) / spread * precision / *lambda;
}

/* The likelihood but for what all shapes share is e^exponent x factor: with
 * x = |mu| sqrt(lambda/2), e^(x^2) erfc(-+x) / (effect sqrt(lambda)) / sigma^(n
 * - 1) e^(-yy / (2 sigma^2)). */
INSIDE void likely_some(const Weights *w, size_t i, const Known *known,
                        double effect, Lane *exponent, Lane *factor) {
    double yy = fmax(0, known->yy - known->y * known->y / known->w);
    double times = (double)known->tests - 1;
    const Lane none = {0};
    Lane mu = none, lambda = none, root = none;
    Lane x, below, square, log_sigma, precision;
    Bits up;
    inner_some(w, i, known, effect, &mu, &lambda);
    load(w->log_sigma + i, w->count - i, &log_sigma);
    load(w->precision + i, w->count - i, &precision);
    for (int k = 0; k < LANES; k++)
        root[k] = sqrt(lambda[k] / 2);
    up = mu > none;
    x = -mu;
    choose(&up, &mu, &x); /* its size */
    x = mu * root;
    square = x * x;
    below = -square;
    lane_exp(&below);
    lane_erfcx(&x);
    below = 2 - below * x;
    choose(&up, &below, &x);
    choose(&up, &square, &none);
    *factor = below / (root * (effect * M_SQRT2));
    *exponent = square - times * log_sigma - .5 * yy * precision;
}

/* Exponents into the weights; returns the highest. */
WIDE static double set_exponents(Weights *w, const Known *known,
                                 double effect) {
    double highest = -INFINITY;
    for (size_t i = 0; i < w->count; i += LANES) {
        Lane exponent, factor;
        likely_some(w, i, known, effect, &exponent, &factor);
        store(&exponent, w->count - i, w->weight + i);
        store(&factor, w->count - i, w->factor + i);
        for (size_t k = 0; k < LANES && i + k < w->count; k++)
            highest = exponent[k] > highest ? exponent[k] : highest;
    }
    return highest;
}

/* Weights of any sum, which is returned. */
WIDE static double set_products(Weights *w, double highest) {
    Lane all = {0};
    double sum = 0;
    for (size_t i = 0; i < w->count; i += LANES) {
        Lane x, factor, share;
        size_t left = w->count - i;
        load(w->weight + i, left, &x);
        load(w->factor + i, left, &factor);
        load(w->share + i, left, &share);
        x -= highest;
        lane_exp(&x);
        x = x * factor / share;
        store(&x, left, w->weight + i);
        for (size_t k = left; k < LANES; k++)
            x[k] = 0;
        all += x;
    }
    for (int k = 0; k < LANES; k++)
        sum += all[k];
    return sum;
}

double weights_set(Weights *w, const Known *known, double effect) {
    double squares = 0, sum;
    sum = set_products(w, set_exponents(w, known, effect));
    for (size_t i = 0; i < w->count; i++) {
        w->weight[i] /= sum;
        squares += w->weight[i] * w->weight[i];
    }
    return 1 / squares;
}
