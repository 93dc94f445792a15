/* jacobian: see jacobian.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/jacobian.h"

#include "base/mem.h"

#include <gsl/gsl_linalg.h>
#include <math.h>

void jacobian_read(const Reduced *w, ReducedPoint *x) {
    const Separable *p = w->p;
    reduced_columns(w, x->shape, true);
    x->rss = 0;
    for (size_t i = 0; i < p->rows; i++) {
        double left = p->value[i] - x->level;
        for (int k = 0; k < p->gains; k++)
            left -= x->gain[k] * w->column[k][i];
        w->left[i] = left;
        x->rss += p->weight[i] * left * left;
    }
}

static int shape_of(const Separable *p, int which) {
    return which - 1 - p->gains;
}

double jacobian_column(const Reduced *w, const ReducedPoint *x, int which,
                       size_t row) {
    int i = shape_of(w->p, which);
    if (which == 0)
        return 1;
    if (i < 0)
        return w->column[which - 1][row];
    return x->gain[w->p->belongs[i]] * w->slope[i][row];
}

/* Would the residual sum fall if a shape on a bound came away from it? */
static bool pulled_in(const Reduced *w, const ReducedPoint *x, int i,
                      int bound) {
    double pull = 0;
    for (size_t row = 0; row < w->p->rows; row++)
        pull += w->p->weight[row] * w->left[row] *
                jacobian_column(w, x, 1 + w->p->gains + i, row);
    return bound * pull < 0;
}

JacobianFree jacobian_free(const Reduced *w, const ReducedPoint *x,
                           bool leave) {
    const Separable *p = w->p;
    JacobianFree f = {.count = 0};
    if (p->level)
        f.which[f.count++] = 0;
    for (int k = 0; k < p->gains; k++)
        if (x->gain[k] != 0)
            f.which[f.count++] = 1 + k;
    for (int i = 0; i < p->shapes; i++) {
        int bound = reduced_bound_at(p, x->shape, i);
        if (x->gain[p->belongs[i]] != 0 &&
            (!bound || (leave && pulled_in(w, x, i, bound))))
            f.which[f.count++] = 1 + p->gains + i;
    }
    return f;
}

/* ---- what is known of the estimates ---- */

/* The Jacobian in natural units, columns scaled to length 1. */
static gsl_matrix *scaled(const Reduced *w, const ReducedPoint *x,
                          const JacobianFree *f, double *length) {
    gsl_matrix *a = gsl_matrix_alloc(w->p->rows, (size_t)f->count);
    if (!a)
        mem_out();
    for (int k = 0; k < f->count; k++) {
        int i = shape_of(w->p, f->which[k]);
        double scale = i < 0 ? 1 : 1 / x->shape[i], sum = 0;
        for (size_t row = 0; row < w->p->rows; row++) {
            double value = sqrt(w->p->weight[row]) * scale *
                           jacobian_column(w, x, f->which[k], row);
            gsl_matrix_set(a, row, (size_t)k, value);
            sum += value * value;
        }
        length[k] = fmax(sqrt(sum), 1e-300);
        for (size_t row = 0; row < w->p->rows; row++)
            *gsl_matrix_ptr(a, row, (size_t)k) /= length[k];
    }
    return a;
}

/* (J'J)^-1 from the singular values of J. */
static void set_covariance(const gsl_matrix *v, const gsl_vector *s,
                           const JacobianFree *f, const double *length,
                           SeparableFit *fit) {
    for (size_t i = 0; i < v->size1; i++)
        for (size_t k = 0; k < v->size1; k++) {
            double sum = 0;
            for (size_t m = 0; m < v->size1; m++)
                sum += gsl_matrix_get(v, i, m) * gsl_matrix_get(v, k, m) /
                       pow(gsl_vector_get(s, m), 2);
            fit->covariance[f->which[i]][f->which[k]] =
                sum / (length[i] * length[k]);
        }
}

void jacobian_errors(const Reduced *w, const ReducedPoint *x,
                     SeparableFit *fit) {
    JacobianFree f = jacobian_free(w, x, false);
    double length[SEPARABLE_ALL];
    size_t n = (size_t)f.count;
    gsl_matrix *a, *v;
    gsl_vector *s, *work;
    if (n == 0 || w->p->rows < n)
        return;
    a = scaled(w, x, &f, length);
    v = gsl_matrix_alloc(n, n);
    s = gsl_vector_alloc(n);
    work = gsl_vector_alloc(n);
    if (!v || !s || !work)
        mem_out();
    fit->condition = INFINITY;
    if (gsl_linalg_SV_decomp(a, v, s, work) == 0)
        fit->condition = gsl_vector_get(s, 0) / gsl_vector_get(s, n - 1);
    if (fit->condition < 1e12)
        set_covariance(v, s, &f, length, fit);
    gsl_matrix_free(a);
    gsl_matrix_free(v);
    gsl_vector_free(s);
    gsl_vector_free(work);
}
