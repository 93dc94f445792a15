/* descent: see descent.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/descent.h"

#include "calibrate/cholesky.h"

#include <math.h>
#include <string.h>

/* Does a shape stand at its bound below another? */
static bool tied(const Separable *p, const double *shape, int i) {
    return p->under[i] != i && reduced_bound_at(p, shape, i) == 1 &&
           reduced_upper(p, i, shape) < p->most[i];
}

/* Shapes at a bound below another go along with it. */
static void go_along(const Separable *p, const double *shape, double *by) {
    for (int i = 0; i < p->shapes; i++)
        if (tied(p, shape, i))
            by[i] += by[p->under[i]];
}

/* How many neighbours a point has along `shapes` axes, itself included. */
static int neighbours(int shapes) {
    int all = 1;
    for (int i = 0; i < shapes; i++)
        all *= 3;
    return all;
}

/* The points around one at a distance along all axes, itself in the middle. */
typedef struct {
    int all, middle, best;
    ReducedPoint point[REDUCED_MANY];
    bool exact[REDUCED_MANY]; /* no bound came in its way */
} Around;

static void look_around(const Reduced *w, const double *step,
                        const ReducedPoint *x, Around *a) {
    const Separable *p = w->p;
    a->all = neighbours(p->shapes);
    a->middle = a->best = a->all / 2;
    for (int n = 0; n < a->all; n++) {
        ReducedPoint *next = &a->point[n];
        double by[SEPARABLE_SHAPES];
        int code = n;
        *next = *x;
        for (int i = 0; i < p->shapes; i++, code /= 3)
            by[i] = (code % 3 - 1) * step[i];
        go_along(p, x->shape, by);
        reduced_move(p, by, next->shape);
        a->exact[n] = true;
        for (int i = 0; i < p->shapes; i++)
            a->exact[n] =
                a->exact[n] && fabs(next->shape[i] - x->shape[i] * exp(by[i])) <
                                   1e-12 * x->shape[i];
    }
    reduced_solve_many(w, a->point, (size_t)a->all);
    a->point[a->middle] = *x;
    for (int n = 0; n < a->all; n++)
        if (a->point[n].rss < a->point[a->best].rss &&
            reduced_inside(p, a->point[n].shape))
            a->best = n;
}

static double rss_around(const Around *a, int offset, bool *exact) {
    *exact = *exact && a->exact[a->middle + offset];
    return a->point[a->middle + offset].rss;
}

/* The bottom of the quadratic through the points around, in steps from the
 * middle, along the axes on no bound; false where there is none. */
static bool bottom_of(const Separable *p, const Around *a, double *by) {
    static const int stride[SEPARABLE_SHAPES] = {1, 3, 9};
    const ReducedPoint *x = &a->point[a->middle];
    double h[SEPARABLE_SHAPES][SEPARABLE_SHAPES], own[SEPARABLE_SHAPES];
    int axis[SEPARABLE_SHAPES], n = 0;
    bool exact = true;
    for (int i = 0; i < p->shapes; i++) {
        by[i] = 0;
        if (!reduced_bound_at(p, x->shape, i))
            axis[n++] = i;
    }
    for (int i = 0; i < n; i++) {
        int one = stride[axis[i]];
        double up = rss_around(a, one, &exact);
        double down = rss_around(a, -one, &exact);
        own[i] = (down - up) / 2;
        h[i][i] = up + down - 2 * x->rss;
        for (int k = 0; k < i; k++) {
            int two = stride[axis[k]];
            h[i][k] = (rss_around(a, one + two, &exact) +
                       rss_around(a, -one - two, &exact) -
                       rss_around(a, one - two, &exact) -
                       rss_around(a, two - one, &exact)) /
                      4;
        }
    }
    if (n == 0 || !exact || !cholesky_root(n, SEPARABLE_SHAPES, h, 0, 0))
        return false;
    cholesky_solve(n, SEPARABLE_SHAPES, h, own);
    for (int i = 0; i < n; i++)
        by[axis[i]] = own[i];
    return true;
}

/* Goes to the bottom of the quadratic if it is no more than a step or two away
 * and lower than all points around; the next look is closer then. */
static bool jump(const Reduced *w, double *step, const Around *a,
                 ReducedPoint *x) {
    double by[SEPARABLE_SHAPES], farthest = 0;
    ReducedPoint next = *x;
    if (!bottom_of(w->p, a, by))
        return false;
    for (int i = 0; i < w->p->shapes; i++) {
        farthest = fmax(farthest, fabs(by[i]));
        by[i] *= step[i];
    }
    if (!(farthest <= 2))
        return false;
    go_along(w->p, x->shape, by);
    reduced_move(w->p, by, next.shape);
    if (!reduced_inside(w->p, next.shape))
        return false;
    reduced_solve(w, false, &next);
    if (!(next.rss < a->point[a->best].rss))
        return false;
    *x = next;
    for (int i = 0; i < w->p->shapes && farthest <= 1; i++)
        step[i] /= 8;
    return true;
}

void descent_run(const Reduced *w, const double *first, double last,
                 ReducedPoint *x) {
    double step[SEPARABLE_SHAPES];
    memcpy(step, first, sizeof step);
    for (int moves = 0; step[0] > last && moves < 2000;) {
        Around a;
        look_around(w, step, x, &a);
        if (jump(w, step, &a, x))
            moves++;
        else if (a.best != a.middle) {
            *x = a.point[a.best];
            moves++;
        } else
            for (int i = 0; i < w->p->shapes; i++)
                step[i] /= 2;
    }
}

void descent_bottom(const Reduced *w, const double *first, ReducedPoint *x) {
    double close[SEPARABLE_SHAPES];
    bool any = false;
    descent_run(w, first, 1e-4, x);
    for (int i = 0; i < w->p->shapes; i++) {
        close[i] = 1e-4;
        any = any || tied(w->p, x->shape, i);
    }
    if (any) /* nothing else goes along there */
        descent_run(w, close, 1e-7, x);
}
