/* weights: see weights.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/weights.h"

#include "base/mem.h"
#include "calibrate/lanes.h"

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

Weights weights_from(const Weights *w, size_t from) {
    double **column[COLUMNS];
    Weights part = *w;
    columns_of(&part, column);
    for (int k = 0; k < COLUMNS; k++)
        *column[k] += from;
    part.count = part.room = 0;
    return part;
}

void weights_free(Weights *w) {
    double **column[COLUMNS];
    columns_of(w, column);
    for (int k = 0; k < COLUMNS; k++)
        free(*column[k]);
    *w = (Weights){0};
}

/* ---- eight side by side ---- */

WIDE void weights_exp(size_t count, double *x) {
    lane_each(count, x, lane_exp);
}

WIDE void weights_log(size_t count, double *x) {
    lane_each(count, x, lane_log);
}

WIDE double weights_power(size_t count, const double *log_weight, double power,
                          double *weight, double *squares) {
    Lane sum = {0}, square = {0};
    for (size_t i = 0; i < count; i += LANES) {
        Lane some;
        lane_load(log_weight + i, count - i, &some);
        some *= power;
        lane_exp(&some);
        for (size_t k = count - i; k < LANES; k++)
            some[k] = 0;
        sum += some;
        square += some * some;
        lane_store(&some, count - i, weight + i);
    }
    *squares = lane_sum(&square);
    return lane_sum(&sum);
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
    lane_load(w->z + i, left, &z);
    lane_load(w->zz + i, left, &zz);
    lane_load(w->zy + i, left, &zy);
    lane_load(w->spread + i, left, &spread);
    lane_load(w->precision + i, left, &precision);
    zz -= z * (z / known->w);
    some = zz > none;
    lane_choose(&some, &zz, &none);
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
    lane_load(w->log_sigma + i, w->count - i, &log_sigma);
    lane_load(w->precision + i, w->count - i, &precision);
    for (int k = 0; k < LANES; k++)
        root[k] = sqrt(lambda[k] / 2);
    up = mu > none;
    x = -mu;
    lane_choose(&up, &mu, &x); /* its size */
    x = mu * root;
    square = x * x;
    below = -square;
    lane_exp(&below);
    lane_erfcx(&x);
    below = 2 - below * x;
    lane_choose(&up, &below, &x);
    lane_choose(&up, &square, &none);
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
        lane_store(&exponent, w->count - i, w->weight + i);
        lane_store(&factor, w->count - i, w->factor + i);
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
        lane_load(w->weight + i, left, &x);
        lane_load(w->factor + i, left, &factor);
        lane_load(w->share + i, left, &share);
        x -= highest;
        lane_exp(&x);
        x = x * factor / share;
        lane_store(&x, left, w->weight + i);
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
