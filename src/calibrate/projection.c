/* projection: see projection.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/projection.h"

#include "calibrate/descent.h"
#include "calibrate/jacobian.h"
#include "calibrate/polish.h"
#include "calibrate/reduced.h"
#include "calibrate/valleys.h"

#include <math.h>
#include <string.h>

static void set_fit(const Separable *p, const ReducedPoint *x,
                    SeparableFit *fit) {
    *fit = (SeparableFit){.level = x->level, .rss = x->rss, .condition = NAN};
    memcpy(fit->gain, x->gain, sizeof fit->gain);
    memcpy(fit->shape, x->shape, sizeof fit->shape);
    for (int i = 0; i < SEPARABLE_ALL; i++)
        for (int k = 0; k < SEPARABLE_ALL; k++)
            fit->covariance[i][k] = NAN;
    for (int k = 0; k < p->gains; k++)
        fit->on_bound[1 + k] = !p->any_sign[k] && x->gain[k] <= 0;
    for (int i = 0; i < p->shapes; i++)
        fit->on_bound[1 + p->gains + i] = reduced_bound_at(p, x->shape, i) != 0;
}

static void descend(const Reduced *w, const double *step, ReducedPoint *x) {
    descent_bottom(w, step, x);
    reduced_solve(w, true, x);
    polish_run(w, x);
}

/* Goes down a valley a little; is it deep enough then to be of any use? */
static bool promising(const Reduced *w, const double *step,
                      const ReducedPoint *best, ReducedPoint *x) {
    double from = x->rss;
    descent_run(w, step, step[0] / 10, x);
    return x->rss - 10 * (from - x->rss) < best->rss;
}

/* Two shapes that nearly agree can change places: a second valley lies beyond
 * their diagonal, nearer than the grid tells apart. */
static void exchange(const Reduced *w, const double *grid, ReducedPoint *best) {
    const ReducedPoint from = *best;
    for (int i = 0; i < w->p->shapes; i++)
        for (int k = i + 1; k < w->p->shapes; k++) {
            double apart = fabs(log(from.shape[i] / from.shape[k]));
            double step[SEPARABLE_SHAPES];
            ReducedPoint x = from;
            x.shape[i] = from.shape[k];
            x.shape[k] = from.shape[i];
            if (apart > 2 * grid[k] || !reduced_inside(w->p, x.shape))
                continue;
            for (int m = 0; m < w->p->shapes; m++)
                step[m] = fmax(apart / 2, 1e-3);
            reduced_solve(w, false, &x);
            descend(w, step, &x);
            if (x.rss < best->rss)
                *best = x;
        }
}

static ReducedPoint search(const Reduced *w) {
    ReducedPoint valley[VALLEYS_MOST], best = {.rss = INFINITY};
    double step[SEPARABLE_SHAPES];
    size_t count = valleys_find(w, step, valley);
    for (size_t i = 0; i < count; i++) {
        if (i > 0 && !promising(w, step, &best, &valley[i]))
            continue;
        descend(w, step, &valley[i]);
        exchange(w, step, &valley[i]);
        if (valley[i].rss < best.rss)
            best = valley[i];
    }
    return best;
}

void projection_run(const Separable *p, bool errors, SeparableFit *fit) {
    Reduced w;
    ReducedPoint best;
    reduced_start(&w, p);
    best = search(&w);
    polish_finish(&w, &best);
    set_fit(p, &best, fit);
    if (errors)
        jacobian_errors(&w, &best, fit);
    reduced_free(&w);
}

double projection_rss_at(const Separable *p, const double *shape) {
    ReducedPoint x = {.rss = INFINITY};
    Reduced w;
    if (!reduced_inside(p, shape))
        return INFINITY;
    reduced_start(&w, p);
    memcpy(x.shape, shape, (size_t)p->shapes * sizeof *shape);
    reduced_solve(&w, false, &x);
    reduced_free(&w);
    return x.rss;
}
