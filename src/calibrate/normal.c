/* normal: see normal.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/normal.h"

#include "calibrate/lanes.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

enum { MOST = POINTS_DIMENSIONS };

/* ---- of some dimensions ---- */

/* Cholesky factor, in place of the lower half; false if there is none. */
static bool take_root(int n, double root[MOST][MOST]) {
    for (int k = 0; k < n; k++)
        for (int i = k; i < n; i++) {
            double sum = root[i][k];
            for (int j = 0; j < k; j++)
                sum -= root[i][j] * root[k][j];
            if (i == k && !(sum > 0))
                return false;
            root[i][k] = i == k ? sqrt(sum) : sum / root[k][k];
        }
    return true;
}

/* The lanes beyond the last are 0. */
INSIDE void load_weight(const double *weight, size_t left, Lane *to) {
    lane_load(weight, left, to);
    for (size_t k = left; k < LANES; k++)
        (*to)[k] = 0;
}

WIDE static void set_mean(int n, size_t count, double *const *x,
                          const double *weight, double *mean) {
    Lane sum[MOST] = {{0}};
    for (size_t i = 0; i < count; i += LANES) {
        Lane w, some;
        load_weight(weight + i, count - i, &w);
        for (int k = 0; k < n; k++) {
            lane_load(x[k] + i, count - i, &some);
            sum[k] += w * some;
        }
    }
    for (int k = 0; k < n; k++)
        mean[k] = lane_sum(&sum[k]);
}

WIDE static void set_covariance(int n, size_t count, double *const *x,
                                const double *weight, const double *mean,
                                double covariance[MOST][MOST]) {
    Lane sum[MOST][MOST] = {{{0}}};
    for (size_t i = 0; i < count; i += LANES) {
        Lane w, off[MOST];
        load_weight(weight + i, count - i, &w);
        for (int k = 0; k < n; k++) {
            lane_load(x[k] + i, count - i, &off[k]);
            off[k] -= mean[k];
            for (int m = 0; m <= k; m++)
                sum[k][m] += w * off[k] * off[m];
        }
    }
    for (int k = 0; k < n; k++)
        for (int m = 0; m <= k; m++)
            covariance[k][m] = lane_sum(&sum[k][m]);
}

bool normal_fit(int n, size_t count, double *const *x, const double *weight,
                double widened, Normal *normal) {
    *normal = (Normal){.dimensions = n};
    set_mean(n, count, x, weight, normal->mean);
    set_covariance(n, count, x, weight, normal->mean, normal->root);
    for (int k = 0; k < n; k++) {
        for (int m = 0; m <= k; m++)
            normal->root[k][m] *= widened * widened;
        normal->root[k][k] += 1e-6;
    }
    if (!take_root(n, normal->root))
        return false;
    for (int k = 0; k < n; k++) {
        normal->inverse[k] = 1 / normal->root[k][k];
        normal->constant -= log(normal->root[k][k] * sqrt(2 * M_PI));
    }
    return true;
}

WIDE void normal_density(const Normal *normal, size_t count, double *const *x,
                         double *density) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane off[MOST], sum = {0};
        for (int k = 0; k < normal->dimensions; k++) {
            lane_load(x[k] + i, count - i, &off[k]);
            off[k] -= normal->mean[k];
            for (int m = 0; m < k; m++)
                off[k] -= normal->root[k][m] * off[m];
            off[k] *= normal->inverse[k];
            sum += off[k] * off[k];
        }
        sum = normal->constant - .5 * sum;
        lane_store(&sum, count - i, density + i);
    }
}

WIDE void normal_draw(const Normal *normal, double u[][POINTS_AT_ONCE]) {
    int n = normal->dimensions;
    for (int i = 0; i < POINTS_AT_ONCE; i += LANES) {
        Lane x[MOST];
        for (int k = 0; k < n; k++) {
            lane_load(u[k] + i, LANES, &x[k]);
            lane_normal(&x[k]);
        }
        for (int k = n - 1; k >= 0; k--) {
            Lane sum = x[k] * normal->root[k][k] + normal->mean[k];
            for (int m = 0; m < k; m++)
                sum += x[m] * normal->root[k][m];
            lane_store(&sum, LANES, u[k] + i);
        }
    }
}

/* ---- of one ---- */

WIDE void normal_quantiles(size_t count, double *u) {
    lane_each(count, u, lane_normal);
}

/* Shares of the whole normal in place of those of what is above 0, and the
 * normals that lie above them where they are not too small a share. */
INSIDE void cut_some(const Lane *mu, const Lane *sd, Lane *share, Lane *x) {
    const Lane none = {0}, least = none + 0x1p-36, most = 1 - least;
    Lane size = *mu / *sd * M_SQRT1_2, minus = -size, below, rest;
    Bits up = size > none, all;
    lane_choose(&up, &size, &minus);
    below = -(size * size);
    lane_exp(&below);
    lane_erfcx(&size);
    below *= .5 * size;
    rest = 1 - below;
    lane_choose(&up, &rest, &below);
    *share *= rest;
    *x = *share;
    all = *x <= most;
    lane_choose(&all, x, &most);
    all = *x >= least;
    lane_choose(&all, x, &least);
    lane_normal(x);
    *x = *mu - *sd * *x;
}

WIDE static void cut_all(size_t count, const double *mu, const double *sd,
                         double *share, double *x) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane m, s, own, normal;
        lane_load(mu + i, count - i, &m);
        lane_load(sd + i, count - i, &s);
        lane_load(share + i, count - i, &own);
        cut_some(&m, &s, &own, &normal);
        lane_store(&own, count - i, share + i);
        lane_store(&normal, count - i, x + i);
    }
}

void normal_cut(size_t count, const double *mu, const double *sd, double *u) {
    enum { AT_ONCE = 64 };
    for (size_t from = 0; from < count; from += AT_ONCE) {
        size_t n = count - from < AT_ONCE ? count - from : AT_ONCE;
        double x[AT_ONCE], *share = u + from;
        cut_all(n, mu + from, sd + from, share, x);
        for (size_t i = 0; i < n; i++) {
            if (share[i] < 0x1p-36)
                x[i] = mu[from + i] +
                       sd[from + i] * gsl_cdf_ugaussian_Qinv(share[i]);
            share[i] = isfinite(x[i]) && x[i] > 0 ? x[i] : 1e-9 * sd[from + i];
        }
    }
}
