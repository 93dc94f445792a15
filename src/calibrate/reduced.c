/* reduced: see reduced.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/reduced.h"

#include "base/mem.h"
#include "calibrate/cholesky.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void reduced_start(Reduced *w, const Separable *p) {
    size_t n = SEPARABLE_GAINS * (1 + REDUCED_MANY) + SEPARABLE_SHAPES + 1;
    double *block = mem_new(n * p->rows + SEPARABLE_SHAPES, sizeof *block);
    *w = (Reduced){.p = p};
    for (int k = 0; k < SEPARABLE_GAINS; k++, block += p->rows)
        w->column[k] = block;
    for (int i = 0; i < SEPARABLE_SHAPES; i++, block += p->rows)
        w->slope[i] = block;
    w->left = block;
    block += p->rows;
    w->shape = block;
    *w->shape = NAN;
    block += SEPARABLE_SHAPES;
    for (int k = 0; k < SEPARABLE_GAINS; k++, block += REDUCED_MANY * p->rows)
        w->many[k] = block;
}

void reduced_free(Reduced *w) {
    free(w->column[0]);
}

/* ---- bounds ---- */

double reduced_upper(const Separable *p, int i, const double *shape) {
    if (p->under[i] == i)
        return p->most[i];
    return fmin(p->most[i], shape[p->under[i]] / p->ratio);
}

bool reduced_inside(const Separable *p, const double *shape) {
    for (int i = 0; i < p->shapes; i++)
        if (shape[i] < p->least[i] * (1 - 1e-12) ||
            shape[i] > reduced_upper(p, i, shape) * (1 + 1e-12))
            return false;
    return true;
}

int reduced_bound_at(const Separable *p, const double *shape, int i) {
    if (shape[i] <= p->least[i] * (1 + 1e-9))
        return -1;
    return shape[i] >= reduced_upper(p, i, shape) * (1 - 1e-9);
}

void reduced_move(const Separable *p, const double *by, double *shape) {
    for (int i = 0; i < p->shapes; i++)
        shape[i] = fmax(p->least[i], shape[i] * exp(by[i]));
    for (int i = 0; i < p->shapes; i++)
        shape[i] = fmin(shape[i], reduced_upper(p, i, shape));
}

/* ---- level and gains at given shapes ---- */

static void add_means(const Reduced *w, ReducedSums *s) {
    const Separable *p = w->p;
    double weights = 0;
    for (size_t i = 0; i < p->rows; i++) {
        weights += p->weight[i];
        s->y += p->weight[i] * p->value[i];
        for (int k = 0; k < p->gains; k++)
            s->x[k] += p->weight[i] * w->column[k][i];
    }
    s->y /= weights;
    for (int k = 0; k < p->gains; k++)
        s->x[k] /= weights;
}

ReducedSums reduced_sums(const Reduced *w) {
    const Separable *p = w->p;
    ReducedSums s = {0};
    if (p->level)
        add_means(w, &s);
    for (size_t i = 0; i < p->rows; i++) {
        double y = p->value[i] - s.y, x[SEPARABLE_GAINS];
        s.yy += p->weight[i] * y * y;
        for (int k = 0; k < p->gains; k++) {
            x[k] = w->column[k][i] - s.x[k];
            s.xy[k] += p->weight[i] * x[k] * y;
            for (int m = 0; m <= k; m++)
                s.xx[k][m] += p->weight[i] * x[k] * x[m];
        }
    }
    return s;
}

/* Solves for the gains of a set, the others 0, by Cholesky; false when they
 * cannot be told apart. */
static bool solve_set(const ReducedSums *s, int gains, unsigned set,
                      double *gain) {
    int which[SEPARABLE_GAINS], n = 0;
    double root[SEPARABLE_GAINS][SEPARABLE_GAINS], b[SEPARABLE_GAINS];
    for (int k = 0; k < gains; k++) {
        gain[k] = 0;
        if (set >> k & 1)
            which[n++] = k;
    }
    for (int k = 0; k < n; k++) {
        b[k] = s->xy[which[k]];
        for (int m = 0; m <= k; m++)
            root[k][m] = s->xx[which[k]][which[m]];
    }
    if (!cholesky_root(n, SEPARABLE_GAINS, root, 0, 1e-14))
        return false;
    cholesky_solve(n, SEPARABLE_GAINS, root, b);
    for (int k = 0; k < n; k++)
        gain[which[k]] = b[k];
    return true;
}

/* Residual sum of any gains: a square form, so that their own rounding hardly
 * matters. */
static double rss_of(const ReducedSums *s, int gains, const double *gain) {
    double rss = s->yy;
    for (int k = 0; k < gains; k++) {
        double sum = s->xx[k][k] * gain[k] - 2 * s->xy[k];
        for (int m = 0; m < k; m++)
            sum += 2 * s->xx[k][m] * gain[m];
        rss += gain[k] * sum;
    }
    return rss;
}

bool reduced_allowed(const Separable *p, const double *gain) {
    for (int k = 0; k < p->gains; k++)
        if (gain[k] < 0 && !p->any_sign[k])
            return false;
    return true;
}

static void set_level(const Separable *p, const ReducedSums *s,
                      ReducedPoint *x) {
    x->level = p->level ? s->y : 0;
    for (int k = 0; k < p->gains; k++)
        x->level -= x->gain[k] * s->x[k];
}

void reduced_solve_sums(const Separable *p, const ReducedSums *s,
                        ReducedPoint *x) {
    double gain[SEPARABLE_GAINS];
    memset(x->gain, 0, sizeof x->gain);
    x->rss = s->yy;
    for (unsigned set = 1; set < 1u << p->gains; set++) {
        double rss;
        if (!solve_set(s, p->gains, set, gain) || !reduced_allowed(p, gain))
            continue;
        rss = rss_of(s, p->gains, gain);
        if (!isfinite(rss) || rss >= x->rss)
            continue;
        x->rss = rss;
        memcpy(x->gain, gain, (size_t)p->gains * sizeof *gain);
    }
    set_level(p, s, x);
}

void reduced_columns(const Reduced *w, const double *shape, bool slopes) {
    const Separable *p = w->p;
    bool there = true;
    for (int i = 0; i < p->shapes; i++)
        there = there && w->shape[i] == shape[i];
    if (there)
        return;
    p->columns(p->context, shape, w->column, slopes ? w->slope : NULL);
    for (int i = 0; i < p->shapes; i++)
        w->shape[i] = slopes ? shape[i] : NAN;
}

void reduced_solve(const Reduced *w, bool slopes, ReducedPoint *x) {
    ReducedSums s;
    reduced_columns(w, x->shape, slopes);
    s = reduced_sums(w);
    reduced_solve_sums(w->p, &s, x);
}

void reduced_columns_many(const Reduced *w, const ReducedPoint *x,
                          size_t count) {
    double shape[REDUCED_MANY][SEPARABLE_SHAPES];
    for (size_t n = 0; n < count; n++)
        memcpy(shape[n], x[n].shape, sizeof shape[n]);
    if (w->p->many) {
        w->p->many(w->p->context, count, shape[0], w->many);
        return;
    }
    for (size_t n = 0; n < count; n++) {
        double *column[SEPARABLE_GAINS];
        for (int k = 0; k < SEPARABLE_GAINS; k++)
            column[k] = w->many[k] + n * w->p->rows;
        w->p->columns(w->p->context, shape[n], column, NULL);
    }
}

Reduced reduced_one(const Reduced *w, size_t n) {
    Reduced one = *w;
    for (int k = 0; k < SEPARABLE_GAINS; k++)
        one.column[k] = w->many[k] + n * w->p->rows;
    return one;
}

void reduced_solve_many(const Reduced *w, ReducedPoint *x, size_t count) {
    reduced_columns_many(w, x, count);
    for (size_t n = 0; n < count; n++) {
        Reduced one = reduced_one(w, n);
        ReducedSums s = reduced_sums(&one);
        reduced_solve_sums(w->p, &s, &x[n]);
    }
}
