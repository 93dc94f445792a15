/* polish: see polish.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/polish.h"

#include "base/mem.h"
#include "calibrate/jacobian.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

/* One damped linear system, shapes damped alone. */
typedef struct {
    gsl_matrix *a;
    gsl_vector *b, *tau, *solution, *left;
} System;

static void system_start(size_t rows, size_t n, System *s) {
    s->a = gsl_matrix_calloc(rows + n, n);
    s->b = gsl_vector_calloc(rows + n);
    s->tau = gsl_vector_alloc(n);
    s->solution = gsl_vector_alloc(n);
    s->left = gsl_vector_alloc(rows + n);
    if (!s->a || !s->b || !s->tau || !s->solution || !s->left)
        mem_out();
}

static void system_free(System *s) {
    gsl_matrix_free(s->a);
    gsl_vector_free(s->b);
    gsl_vector_free(s->tau);
    gsl_vector_free(s->solution);
    gsl_vector_free(s->left);
}

static void system_fill(const Reduced *w, const ReducedPoint *x,
                        const JacobianFree *f, double damping, System *s) {
    size_t rows = w->p->rows;
    for (size_t i = 0; i < rows; i++)
        gsl_vector_set(s->b, i, sqrt(w->p->weight[i]) * w->left[i]);
    for (size_t k = 0; k < (size_t)f->count; k++) {
        double size = 0;
        for (size_t i = 0; i < rows; i++) {
            double value =
                sqrt(w->p->weight[i]) * jacobian_column(w, x, f->which[k], i);
            gsl_matrix_set(s->a, i, k, value);
            size += value * value;
        }
        if (f->which[k] > w->p->gains)
            gsl_matrix_set(s->a, rows + k, k, sqrt(damping * size) + 1e-300);
    }
}

/* Steps of all parameters; false when the matrix is of no use. */
static bool damped_step(const Reduced *w, const ReducedPoint *x,
                        const JacobianFree *f, double damping,
                        double step[SEPARABLE_ALL]) {
    System s;
    bool good;
    memset(step, 0, SEPARABLE_ALL * sizeof *step);
    system_start(w->p->rows, (size_t)f->count, &s);
    system_fill(w, x, f, damping, &s);
    good = gsl_linalg_QR_decomp(s.a, s.tau) == 0 &&
           gsl_linalg_QR_lssolve(s.a, s.tau, s.b, s.solution, s.left) == 0;
    for (int k = 0; k < f->count; k++) {
        step[f->which[k]] = gsl_vector_get(s.solution, (size_t)k);
        good = good && isfinite(step[f->which[k]]);
    }
    system_free(&s);
    return good;
}

/* Moves shapes and gains by a share of a step; false if that leaves the
 * bounds. */
static bool take(const Separable *p, const double *step, double share,
                 ReducedPoint *x) {
    x->level += share * step[0];
    for (int k = 0; k < p->gains; k++)
        x->gain[k] += share * step[1 + k];
    for (int i = 0; i < p->shapes; i++)
        x->shape[i] *= exp(fmax(-1, fmin(1, share * step[1 + p->gains + i])));
    return reduced_allowed(p, x->gain) && reduced_inside(p, x->shape);
}

/* Largest step, each as a share of its parameter. */
static double largest(const Separable *p, const double *step,
                      const ReducedPoint *x) {
    double most = fabs(step[0]) / fmax(fabs(x->level), 1e-300);
    for (int k = 0; k < p->gains; k++)
        most = fmax(most, fabs(step[1 + k]) / fmax(fabs(x->gain[k]), 1e-300));
    for (int i = 0; i < p->shapes; i++)
        most = fmax(most, fabs(step[1 + p->gains + i]));
    return most;
}

/* The gains at new shapes solve normal equations, which lose digits where
 * columns are nearly alike; one step in the linear parameters alone mends
 * that. */
static void refine(const Reduced *w, ReducedPoint *x) {
    JacobianFree f = {.count = 0}, all;
    double step[SEPARABLE_ALL];
    ReducedPoint next = *x;
    jacobian_read(w, x);
    all = jacobian_free(w, x, false);
    for (int k = 0; k < all.count; k++)
        if (all.which[k] <= w->p->gains)
            f.which[f.count++] = all.which[k];
    if (f.count == 0 || !damped_step(w, x, &f, 0, step) ||
        !take(w->p, step, 1, &next))
        return;
    jacobian_read(w, &next);
    if (next.rss < x->rss)
        *x = next;
    else
        jacobian_read(w, x);
}

/* Where a damped step leads: as the linear system says or, if that is lower,
 * with the gains solved anew at the shapes it leads to. */
static bool try_step(const Reduced *w, const double *step, ReducedPoint *x) {
    ReducedPoint solved = *x, joint = *x;
    bool allowed_joint = take(w->p, step, 1, &joint);
    double by[SEPARABLE_SHAPES];
    for (int i = 0; i < w->p->shapes; i++)
        by[i] = fmax(-1, fmin(1, step[1 + w->p->gains + i]));
    reduced_move(w->p, by, solved.shape);
    if (!reduced_inside(w->p, solved.shape))
        return false;
    reduced_solve(w, true, &solved);
    refine(w, &solved);
    if (allowed_joint) {
        jacobian_read(w, &joint);
        if (joint.rss < solved.rss)
            solved = joint;
    }
    *x = solved;
    return true;
}

void polish_run(const Reduced *w, ReducedPoint *x) {
    double damping = 1e-4, step[SEPARABLE_ALL];
    refine(w, x);
    for (int round = 0; round < 300 && damping < 1e12; round++) {
        ReducedPoint next = *x;
        JacobianFree f;
        double size;
        bool fits;
        jacobian_read(w, x);
        f = jacobian_free(w, x, true);
        if (f.count == 0)
            return;
        fits = damped_step(w, x, &f, damping, step);
        size = fits ? largest(w->p, step, x) : INFINITY;
        if (fits && try_step(w, step, &next) && next.rss < x->rss) {
            *x = next;
            damping = fmax(damping / 10, 1e-16);
            if (size < 1e-13)
                break;
            continue;
        }
        if (size < 1e-11)
            break;
        damping *= 10;
    }
}

/* Takes a Gauss-Newton step, or a part of it, if it does not lead away. */
static bool undamped(const Reduced *w, const double *step, ReducedPoint *x) {
    double share = 1;
    for (int halving = 0; halving < 8; halving++, share /= 4) {
        ReducedPoint next = *x;
        if (!take(w->p, step, share, &next))
            continue;
        jacobian_read(w, &next);
        /* near the bottom residual sums no longer differ */
        if (next.rss <= x->rss * (1 + 1e-13) + 1e-300) {
            *x = next;
            return true;
        }
    }
    return false;
}

void polish_finish(const Reduced *w, ReducedPoint *x) {
    double step[SEPARABLE_ALL];
    for (int round = 0; round < 60; round++) {
        JacobianFree f;
        jacobian_read(w, x);
        f = jacobian_free(w, x, false);
        if (f.count == 0 || !damped_step(w, x, &f, 0, step) ||
            !undamped(w, step, x) || largest(w->p, step, x) < 1e-13)
            break;
    }
    jacobian_read(w, x);
}
