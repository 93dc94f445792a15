/* grids: see grids.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "grids.h"
#include "athlete.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

void columns_start(size_t most, size_t tests, Columns *c) {
    *c = (Columns){.tests = tests};
    c->taus = calloc(most, sizeof *c->taus);
    c->column = calloc(most * tests, sizeof *c->column);
    c->square = calloc(most, sizeof *c->square);
    c->by_value = calloc(most, sizeof *c->by_value);
}

void columns_free(Columns *c) {
    free(c->taus);
    free(c->column);
    free(c->square);
    free(c->by_value);
}

void columns_add(ResponseKind kind, const double *taus, bool fitness,
                 const Athlete *a, Columns *c) {
    double f[STEPS_MOST], g[STEPS_MOST], mean = 0;
    double *to = c->column + c->count * c->tests;
    ResponseParams p = unit_params(kind, taus);
    kernel_run(&p, &a->data.timeline, a->when[0], f, g);
    for (size_t i = 0; i < c->tests; i++) {
        to[i] = (fitness ? f : g)[a->step[i]];
        mean += to[i] / (double)c->tests;
    }
    for (size_t i = 0; i < c->tests; i++) {
        to[i] -= mean;
        c->square[c->count] += to[i] * to[i];
        c->by_value[c->count] += to[i] * a->value[i];
    }
    c->taus[c->count][0] = taus[fitness ? 0 : 1];
    c->taus[c->count++][1] = taus[2];
}

static double log_step(double low, double high, int i, int size) {
    return low * pow(high / low, (double)i / (size - 1));
}

void fill_fitness(ResponseKind kind, int size, const Athlete *a, Columns *c) {
    int rises = kind == RESPONSE_DELAYED ? size : 1;
    columns_start((size_t)(size * rises), a->data.count, c);
    for (int i = 0; i < size; i++)
        for (int k = 0; k < rises; k++) {
            double taus[SHAPE_TAUS] = {log_step(1.1, 200, i, size), 10, 10};
            if (kind == RESPONSE_DELAYED)
                taus[2] = log_step(.5, 181, k, size);
            if (kind != RESPONSE_DELAYED || taus[2] <= taus[0] / 1.1)
                columns_add(kind, taus, true, a, c);
        }
}

void fill_fatigue(ResponseKind kind, int size, const Athlete *a, Columns *c) {
    int memories = kind == RESPONSE_VARIABLE_DOSE ? size : 1;
    columns_start((size_t)(size * memories), a->data.count, c);
    for (int i = 0; i < size && kind != RESPONSE_ONE_COMPONENT; i++)
        for (int k = 0; k < memories; k++) {
            double taus[SHAPE_TAUS] = {300, log_step(1, 181, i, size), 10};
            if (kind == RESPONSE_VARIABLE_DOSE)
                taus[2] = log_step(.5, 60, k, size);
            columns_add(kind, taus, false, a, c);
        }
}

/* Best non-negative gains of y ~ k1 f - k g, by their four cases. */
typedef struct {
    double less; /* by how much they lower the residual sum */
    double k1, k;
} Gains;

static void keep_better(Gains *best, double less, double k1, double k) {
    if (k1 >= 0 && k >= 0 && less > best->less)
        *best = (Gains){less, k1, k};
}

static Gains best_gains(double ff, double fg, double gg, double fy, double gy) {
    double det = ff * gg - fg * fg, k1, k;
    Gains best = {0, 0, 0};
    if (ff > 0)
        keep_better(&best, fy * fy / ff, fy / ff, 0);
    if (gg > 0)
        keep_better(&best, gy * gy / gg, 0, -gy / gg);
    if (det > 1e-10 * ff * gg) {
        k1 = (fy * gg - gy * fg) / det;
        k = -(gy * ff - fy * fg) / det;
        keep_better(&best, k1 * fy - k * gy, k1, k);
    }
    return best;
}

double dot(const double *a, const double *b, size_t n) {
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/* The residual sum of given columns and gains, term by term: what is above is
 * only as good as its cancellation. */
static double explicit_rss(const Athlete *a, const double *f, const double *g,
                           Gains gains) {
    double mean = gsl_stats_mean(a->value, 1, a->data.count), sum = 0;
    for (size_t i = 0; i < a->data.count; i++) {
        double r = a->value[i] - mean - gains.k1 * f[i];
        r += g ? gains.k * g[i] : 0;
        sum += r * r;
    }
    return sum;
}

double smallest_rss(const Athlete *a, const Columns *f, const Columns *g) {
    size_t n = f->tests, best_f = 0, best_g = 0;
    Gains best = {0, 0, 0};
    for (size_t i = 0; i < f->count; i++) {
        const double *own = f->column + i * n;
        Gains gains = best_gains(f->square[i], 0, 0, f->by_value[i], 0);
        if (gains.less > best.less) {
            best = gains;
            best_f = i;
        }
        for (size_t k = 0; k < g->count; k++) {
            if (g->taus[k][0] > f->taus[i][0] / 1.1)
                continue;
            gains = best_gains(f->square[i], dot(own, g->column + k * n, n),
                               g->square[k], f->by_value[i], g->by_value[k]);
            if (gains.less > best.less) {
                best = gains;
                best_f = i;
                best_g = k;
            }
        }
    }
    return explicit_rss(a, f->column + best_f * n,
                        g->count ? g->column + best_g * n : NULL, best);
}

bool within_bounds(const ResponseParams *p) {
    const double *v = p->value;
    if (!(v[PARAM_K1] >= 0) || v[PARAM_K2] < 0 || v[PARAM_K3] < 0)
        return false;
    if (v[PARAM_TAU1] < 1.1 || v[PARAM_TAU1] > 200 * (1 + 1e-9))
        return false;
    if (v[PARAM_TAU2] < 1 - 1e-9 ||
        v[PARAM_TAU2] * 1.1 > v[PARAM_TAU1] * (1 + 1e-9))
        return false;
    if (v[PARAM_TAU_RISE] < .5 - 1e-9 ||
        v[PARAM_TAU_RISE] * 1.1 > v[PARAM_TAU1] * (1 + 1e-9))
        return false;
    return !(v[PARAM_TAU3] < .5 - 1e-9) && !(v[PARAM_TAU3] > 60 * (1 + 1e-9));
}
