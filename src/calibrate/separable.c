/* separable: see separable.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/separable.h"

#include "base/mem.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { GAINS = SEPARABLE_GAINS, SHAPES = SEPARABLE_SHAPES };

/* A problem at work: its columns at the shape last asked for. */
typedef struct {
    const Separable *given;
    double *column[GAINS], *slope[SHAPES];
    double *block;
} Work;

static void work_start(const Separable *given, Work *w) {
    w->given = given;
    w->block = mem_new((GAINS + SHAPES) * given->rows, sizeof *w->block);
    for (int g = 0; g < GAINS; g++)
        w->column[g] = w->block + (size_t)g * given->rows;
    for (int s = 0; s < SHAPES; s++)
        w->slope[s] = w->block + (size_t)(GAINS + s) * given->rows;
}

static void columns_at(Work *w, const double *shape, bool slopes) {
    w->given->columns(w->given->context, shape, slopes, w->column, w->slope);
}

/* ---- level and gains at a given shape ---- */

typedef struct {
    double level, gain[GAINS];
    double rss;
} Linear;

/* Weighted means (0 without a level) and sums of products about them. */
typedef struct {
    int gains;
    double mean[GAINS], y;
    double square[GAINS][GAINS], product[GAINS], yy;
} Sums;

static void set_means(const Work *w, Sums *s) {
    const Separable *p = w->given;
    double weights = 0;
    for (size_t i = 0; i < p->rows && p->level; i++) {
        weights += p->weight[i];
        s->y += p->weight[i] * p->value[i];
        for (int g = 0; g < p->gains; g++)
            s->mean[g] += p->weight[i] * w->column[g][i];
    }
    for (int g = 0; g < p->gains && p->level; g++)
        s->mean[g] /= weights;
    if (p->level)
        s->y /= weights;
}

static Sums sums_of(const Work *w) {
    const Separable *p = w->given;
    Sums s = {.gains = p->gains};
    set_means(w, &s);
    for (size_t i = 0; i < p->rows; i++) {
        double x[GAINS], y = p->value[i] - s.y;
        for (int g = 0; g < p->gains; g++)
            x[g] = w->column[g][i] - s.mean[g];
        for (int g = 0; g < p->gains; g++) {
            double weighted = p->weight[i] * x[g];
            for (int h = 0; h <= g; h++)
                s.square[g][h] += weighted * x[h];
            s.product[g] += weighted * y;
        }
        s.yy += p->weight[i] * y * y;
    }
    for (int g = 0; g < p->gains; g++)
        for (int h = g + 1; h < p->gains; h++)
            s.square[g][h] = s.square[h][g];
    return s;
}

/* Solves for the gains of a set (bits) with the others 0, by Gaussian
 * elimination; false when they cannot be told apart. */
static bool solve_set(const Sums *s, int set, double gain[GAINS]) {
    double a[GAINS][GAINS + 1];
    int at[GAINS], n = 0;
    for (int g = 0; g < s->gains; g++) {
        gain[g] = 0;
        if (set & 1 << g)
            at[n++] = g;
    }
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < n; k++)
            a[i][k] = s->square[at[i]][at[k]];
        a[i][n] = s->product[at[i]];
    }
    for (int i = 0; i < n; i++) {
        if (!(a[i][i] > 1e-14 * s->square[at[i]][at[i]]))
            return false;
        for (int k = i + 1; k < n; k++) {
            double factor = a[k][i] / a[i][i];
            for (int m = i; m <= n; m++)
                a[k][m] -= factor * a[i][m];
        }
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++)
            a[i][n] -= a[i][k] * gain[at[k]];
        gain[at[i]] = a[i][n] / a[i][i];
    }
    return true;
}

static double rss_of(const Sums *s, const double gain[GAINS]) {
    double rss = s->yy;
    for (int g = 0; g < s->gains; g++) {
        rss -= 2 * gain[g] * s->product[g];
        for (int h = 0; h < s->gains; h++)
            rss += gain[g] * gain[h] * s->square[g][h];
    }
    return rss;
}

/* Non-negative least squares: the best of all sets of positive gains. */
static Linear solve_linear(const Sums *s) {
    Linear best = {.level = s->y, .rss = s->yy};
    for (int set = 1; set < 1 << s->gains; set++) {
        Linear next = {.level = s->y};
        bool good = solve_set(s, set, next.gain);
        for (int g = 0; g < s->gains; g++) {
            good = good && next.gain[g] >= 0;
            next.level -= next.gain[g] * s->mean[g];
        }
        next.rss = good ? rss_of(s, next.gain) : INFINITY;
        if (next.rss < best.rss)
            best = next;
    }
    return best;
}

/* ---- bounds ---- */

static double upper(const Separable *p, int i, const double *shape) {
    if (p->below[i] == i)
        return p->most[i];
    return fmin(p->most[i], shape[p->below[i]] / p->ratio);
}

static bool inside(const Separable *p, const double *shape) {
    for (int i = 0; i < p->shapes; i++)
        if (shape[i] < p->least[i] * (1 - 1e-12) ||
            shape[i] > upper(p, i, shape) * (1 + 1e-12))
            return false;
    return true;
}

static Linear solve_at(Work *w, const double *shape) {
    Sums sums;
    columns_at(w, shape, false);
    sums = sums_of(w);
    return solve_linear(&sums);
}

static double rss_at(Work *w, const double *shape) {
    return inside(w->given, shape) ? solve_at(w, shape).rss : INFINITY;
}

double separable_rss_at(const Separable *p, const double *shape) {
    Work w;
    double rss;
    work_start(p, &w);
    rss = rss_at(&w, shape);
    free(w.block);
    return rss;
}

/* ---- the grid ---- */

enum { VALLEYS = 12 };

typedef struct {
    double shape[SHAPES];
    double rss;
} Point;

typedef struct {
    int size;     /* points along each axis */
    size_t count; /* of all points */
    double *rss;
    double step[SHAPES]; /* of ln shape */
} Grid;

static void grid_point(const Separable *p, const Grid *g, size_t index,
                       double *shape) {
    for (int i = 0; i < p->shapes; i++) {
        double along = (double)(index % (size_t)g->size);
        shape[i] = p->least[i] * exp(along * g->step[i]);
        index /= (size_t)g->size;
    }
}

static void grid_fill(Work *w, Grid *g) {
    const Separable *p = w->given;
    double shape[SHAPES] = {0};
    g->size = p->grid;
    g->count = 1;
    for (int i = 0; i < p->shapes; i++) {
        g->count *= (size_t)g->size;
        g->step[i] = log(p->most[i] / p->least[i]) / (g->size - 1);
    }
    g->rss = mem_new(g->count, sizeof *g->rss);
    for (size_t index = 0; index < g->count; index++) {
        grid_point(p, g, index, shape);
        g->rss[index] = rss_at(w, shape);
    }
}

/* Is no neighbour, diagonal ones included, lower? */
static bool is_valley(const Separable *p, const Grid *g, size_t index) {
    int at[SHAPES], all = 1;
    size_t rest = index;
    for (int i = 0; i < p->shapes; i++) {
        at[i] = (int)(rest % (size_t)g->size);
        rest /= (size_t)g->size;
        all *= 3;
    }
    for (int n = 0; n < all; n++) {
        size_t other = 0, stride = 1;
        bool there = true;
        int code = n;
        for (int i = 0; i < p->shapes; i++, code /= 3) {
            int k = at[i] + code % 3 - 1;
            there = there && k >= 0 && k < g->size;
            other += (size_t)(k < 0 ? 0 : k) * stride;
            stride *= (size_t)g->size;
        }
        if (there && g->rss[other] < g->rss[index])
            return false;
    }
    return isfinite(g->rss[index]);
}

/* The lowest valleys, best first. */
static size_t find_valleys(const Separable *p, const Grid *g, Point *valley) {
    size_t count = 0;
    for (size_t index = 0; index < g->count; index++) {
        Point point = {.rss = g->rss[index]};
        size_t k;
        if (!is_valley(p, g, index))
            continue;
        if (count == VALLEYS && point.rss >= valley[count - 1].rss)
            continue;
        grid_point(p, g, index, point.shape);
        if (count < VALLEYS)
            count++;
        for (k = count - 1; k > 0 && valley[k - 1].rss > point.rss; k--)
            valley[k] = valley[k - 1];
        valley[k] = point;
    }
    return count;
}

/* ---- down a valley ---- */

/* The neighbour in one of 3^shapes directions, moved inside the bounds. */
static Point neighbour(const Separable *p, const Point *point,
                       const double *step, int code) {
    Point next = *point;
    for (int i = 0; i < p->shapes; i++, code /= 3)
        next.shape[i] = fmin(
            p->most[i],
            fmax(p->least[i], next.shape[i] * exp((code % 3 - 1) * step[i])));
    for (int i = 0; i < p->shapes; i++)
        next.shape[i] = fmin(next.shape[i], upper(p, i, next.shape));
    return next;
}

/* Looks around at a distance in ln shape; moves to the best neighbour. */
static bool step_down(Work *w, Point *point, const double *step) {
    const Separable *p = w->given;
    Point best = *point;
    int all = p->shapes == 1 ? 3 : p->shapes == 2 ? 9 : 27;
    for (int n = 0; n < all; n++) {
        Point next = neighbour(p, point, step, n);
        next.rss = rss_at(w, next.shape);
        if (next.rss < best.rss)
            best = next;
    }
    if (best.rss >= point->rss)
        return false;
    *point = best;
    return true;
}

static void go_down(Work *w, const Grid *g, Point *point) {
    double step[SHAPES];
    int moves = 0;
    memcpy(step, g->step, sizeof step);
    while (step[0] > 1e-7 && moves < 2000) {
        if (step_down(w, point, step))
            moves++;
        else
            for (int i = 0; i < w->given->shapes; i++)
                step[i] /= 2;
    }
}

/* ---- Levenberg-Marquardt in all parameters ---- */

/* The free ones in a row, numbered as in Separated.value. */
typedef struct {
    int count;
    int which[SEPARABLE_MOST];
} Free;

typedef struct {
    Linear linear;
    Point point;
} Candidate;

static bool at_bound(const Separable *p, const double *shape, int i) {
    return shape[i] <= p->least[i] * (1 + 1e-9) ||
           shape[i] >= upper(p, i, shape) * (1 - 1e-9);
}

/* A gain of 0 leaves the shape of its column undetermined. */
static Free free_of(const Separable *p, const Candidate *x) {
    Free f = {.count = 0};
    if (p->level)
        f.which[f.count++] = 0;
    for (int g = 0; g < p->gains; g++)
        if (x->linear.gain[g] > 0)
            f.which[f.count++] = 1 + g;
    for (int i = 0; i < p->shapes; i++)
        if (x->linear.gain[p->of[i]] > 0 && !at_bound(p, x->point.shape, i))
            f.which[f.count++] = SEPARABLE_SHAPE_0 + i;
    return f;
}

/* Slope of the model at a row by a parameter, by ln shape for shapes. */
static double slope_of(const Work *w, const Candidate *x, int which, size_t i) {
    int s = which - SEPARABLE_SHAPE_0;
    if (which == 0)
        return 1;
    if (s < 0)
        return w->column[which - 1][i];
    return x->linear.gain[w->given->of[s]] * w->slope[s][i];
}

static double residual(const Work *w, const Linear *linear, size_t i) {
    double r = w->given->value[i] - linear->level;
    for (int g = 0; g < w->given->gains; g++)
        r -= linear->gain[g] * w->column[g][i];
    return r;
}

/* Weighted residual sum; the columns must be those of the shape. */
static double residuals(const Work *w, const Linear *linear) {
    double sum = 0;
    for (size_t i = 0; i < w->given->rows; i++) {
        double r = residual(w, linear, i);
        sum += w->given->weight[i] * r * r;
    }
    return sum;
}

/* Moves to a candidate: its columns, with slopes, and its residual sum. */
static void stand_at(Work *w, Candidate *x) {
    columns_at(w, x->point.shape, true);
    x->point.rss = residuals(w, &x->linear);
}

/* The same, with level and gains solved for anew where that is better: along a
 * curved valley they must go with the shape. */
static void stand_better(Work *w, Candidate *x) {
    Sums sums;
    Linear solved;
    double rss;
    stand_at(w, x);
    sums = sums_of(w);
    solved = solve_linear(&sums);
    rss = residuals(w, &solved);
    if (rss < x->point.rss) {
        x->linear = solved;
        x->point.rss = rss;
    }
}

static void fill_step(const Work *w, const Candidate *x, const Free *f,
                      double damping, gsl_matrix *a, gsl_vector *b) {
    const Separable *p = w->given;
    for (size_t i = 0; i < p->rows; i++) {
        double root = sqrt(p->weight[i]);
        gsl_vector_set(b, i, root * residual(w, &x->linear, i));
        for (int k = 0; k < f->count; k++)
            gsl_matrix_set(a, i, (size_t)k,
                           root * slope_of(w, x, f->which[k], i));
    }
    for (size_t k = 0; k < (size_t)f->count; k++) {
        double size = 0;
        for (size_t i = 0; i < p->rows; i++)
            size += gsl_matrix_get(a, i, k) * gsl_matrix_get(a, i, k);
        gsl_matrix_set(a, p->rows + k, k, sqrt(damping * size) + 1e-300);
    }
}

/* Solves the damped step; false when the matrix is of no use. */
static bool damped_step(const Work *w, const Candidate *x, const Free *f,
                        double damping, double *step) {
    size_t n = (size_t)f->count, all = w->given->rows + n;
    gsl_matrix *a = gsl_matrix_calloc(all, n);
    gsl_vector *b = gsl_vector_calloc(all), *tau = gsl_vector_alloc(n);
    gsl_vector *solution = gsl_vector_alloc(n), *left = gsl_vector_alloc(all);
    bool good;
    if (!a || !b || !tau || !solution || !left)
        mem_out();
    fill_step(w, x, f, damping, a, b);
    good = gsl_linalg_QR_decomp(a, tau) == 0 &&
           gsl_linalg_QR_lssolve(a, tau, b, solution, left) == 0;
    for (size_t k = 0; k < n; k++) {
        step[k] = gsl_vector_get(solution, k);
        good = good && isfinite(step[k]);
    }
    gsl_matrix_free(a);
    gsl_vector_free(b);
    gsl_vector_free(tau);
    gsl_vector_free(solution);
    gsl_vector_free(left);
    return good;
}

static bool apply_step(const Separable *p, const Free *f, const double *step,
                       Candidate *x) {
    bool good = true;
    for (int k = 0; k < f->count; k++) {
        int which = f->which[k], s = which - SEPARABLE_SHAPE_0;
        if (which == 0)
            x->linear.level += step[k];
        else if (s < 0)
            x->linear.gain[which - 1] += step[k];
        else
            x->point.shape[s] *= exp(fmax(-1, fmin(1, step[k])));
        good = good && (which == 0 || s >= 0 || x->linear.gain[which - 1] >= 0);
    }
    return good && inside(p, x->point.shape);
}

/* The largest step relative to its parameter. */
static double largest(const Free *f, const double *step, const Candidate *x) {
    double most_moved = 0;
    for (int k = 0; k < f->count; k++) {
        int which = f->which[k];
        double size = which == 0                  ? fabs(x->linear.level)
                      : which < SEPARABLE_SHAPE_0 ? x->linear.gain[which - 1]
                                                  : 1;
        most_moved = fmax(most_moved, fabs(step[k]) / fmax(size, 1e-300));
    }
    return most_moved;
}

/* Ends when a step moves no parameter by more than 1e-13 of itself, or when
 * nothing gets better. */
static void polish(Work *w, Candidate *x) {
    double damping = 1e-4, step[SEPARABLE_MOST];
    stand_at(w, x);
    for (int round = 0; round < 500 && damping < 1e12; round++) {
        Free f = free_of(w->given, x);
        Candidate next = *x;
        bool fits = f.count > 0 && damped_step(w, x, &f, damping, step) &&
                    apply_step(w->given, &f, step, &next);
        if (fits)
            stand_better(w, &next);
        if (fits && next.point.rss < x->point.rss) {
            bool small = largest(&f, step, x) < 1e-13;
            *x = next;
            damping = fmax(damping / 10, 1e-16);
            if (small)
                break;
            continue;
        }
        stand_at(w, x);
        if (fits && damping < 1e-12 && largest(&f, step, x) < 1e-11)
            break;
        damping *= 10;
    }
    stand_at(w, x);
}

/* Takes a Gauss-Newton step, or a part of it, if it does not lead away. */
static bool undamped(Work *w, const Free *f, const double *step, Candidate *x) {
    double part[SEPARABLE_MOST], share = 1;
    for (int halving = 0; halving < 8; halving++, share /= 4) {
        Candidate next = *x;
        for (int k = 0; k < f->count; k++)
            part[k] = share * step[k];
        if (!apply_step(w->given, f, part, &next))
            continue;
        stand_at(w, &next);
        /* near the bottom residual sums no longer differ */
        if (next.point.rss <= x->point.rss * (1 + 1e-13) + 1e-300) {
            *x = next;
            return true;
        }
    }
    return false;
}

/* The last digits: plain Gauss-Newton steps as long as they do not lead away.
 */
static void finish(Work *w, Candidate *x) {
    double step[SEPARABLE_MOST];
    stand_at(w, x);
    for (int round = 0; round < 60; round++) {
        Free f = free_of(w->given, x);
        if (f.count == 0 || !damped_step(w, x, &f, 0, step) ||
            !undamped(w, &f, step, x) || largest(&f, step, x) < 1e-13)
            break;
    }
    stand_at(w, x);
}

/* ---- what is known of the estimates ---- */

/* The Jacobian in natural units, columns scaled to length 1. */
static gsl_matrix *jacobian(const Work *w, const Candidate *x, const Free *f,
                            double *length) {
    const Separable *p = w->given;
    gsl_matrix *a = gsl_matrix_alloc(p->rows, (size_t)f->count);
    if (!a)
        mem_out();
    for (int k = 0; k < f->count; k++) {
        int s = f->which[k] - SEPARABLE_SHAPE_0;
        double scale = s < 0 ? 1 : 1 / x->point.shape[s], sum = 0;
        for (size_t i = 0; i < p->rows; i++) {
            double value =
                sqrt(p->weight[i]) * scale * slope_of(w, x, f->which[k], i);
            gsl_matrix_set(a, i, (size_t)k, value);
            sum += value * value;
        }
        length[k] = sqrt(sum);
        for (size_t i = 0; i < p->rows; i++)
            gsl_matrix_set(a, i, (size_t)k,
                           gsl_matrix_get(a, i, (size_t)k) /
                               fmax(length[k], 1e-300));
    }
    return a;
}

/* (J'J)^-1 by singular values. */
static void set_inverse(const Work *w, const Candidate *x, Separated *out) {
    Free f = free_of(w->given, x);
    double length[SEPARABLE_MOST];
    size_t n = (size_t)f.count;
    gsl_matrix *a = jacobian(w, x, &f, length), *v = gsl_matrix_alloc(n, n);
    gsl_vector *s = gsl_vector_alloc(n), *work = gsl_vector_alloc(n);
    bool useful;
    if (!v || !s || !work)
        mem_out();
    useful = w->given->rows >= n && gsl_linalg_SV_decomp(a, v, s, work) == 0;
    out->condition =
        useful ? gsl_vector_get(s, 0) / gsl_vector_get(s, n - 1) : INFINITY;
    useful = useful && out->condition < 1e12;
    for (size_t i = 0; i < n && useful; i++)
        for (size_t k = 0; k < n; k++) {
            double sum = 0;
            for (size_t m = 0; m < n; m++)
                sum += gsl_matrix_get(v, i, m) * gsl_matrix_get(v, k, m) /
                       pow(gsl_vector_get(s, m), 2);
            out->inverse[f.which[i]][f.which[k]] =
                sum / (length[i] * length[k]);
        }
    gsl_matrix_free(a);
    gsl_matrix_free(v);
    gsl_vector_free(s);
    gsl_vector_free(work);
}

static void set_solution(const Work *w, const Candidate *x, Separated *out) {
    const Separable *p = w->given;
    *out = (Separated){.rss = x->point.rss, .condition = NAN};
    for (int i = 0; i < SEPARABLE_MOST; i++)
        for (int k = 0; k < SEPARABLE_MOST; k++)
            out->inverse[i][k] = NAN;
    out->value[0] = x->linear.level;
    for (int g = 0; g < p->gains; g++) {
        out->value[1 + g] = x->linear.gain[g];
        out->on_bound[1 + g] = x->linear.gain[g] <= 0;
    }
    for (int i = 0; i < p->shapes; i++) {
        out->value[SEPARABLE_SHAPE_0 + i] = x->point.shape[i];
        out->on_bound[SEPARABLE_SHAPE_0 + i] = at_bound(p, x->point.shape, i);
    }
}

/* From a point: level and gains, then the polish; kept if it is the best. */
static void try_point(Work *w, const Point *point, Candidate *best) {
    Candidate x = {.point = *point, .linear = solve_at(w, point->shape)};
    polish(w, &x);
    if (x.point.rss < best->point.rss)
        *best = x;
}

/* Two columns of like form make twin valleys, nearer each other than the grid
 * can tell: the best is tried with each two shape parameters exchanged. */
static void try_exchanged(Work *w, Candidate *best) {
    const Separable *p = w->given;
    const Candidate found = *best;
    for (int i = 0; i < p->shapes; i++)
        for (int k = 0; k < i; k++) {
            Point twin = found.point;
            twin.shape[i] = found.point.shape[k];
            twin.shape[k] = found.point.shape[i];
            if (inside(p, twin.shape))
                try_point(w, &twin, best);
        }
}

void separable_solve(const Separable *p, Separated *out) {
    Work w;
    Grid grid;
    Point valley[VALLEYS];
    Candidate best = {.point.rss = INFINITY};
    size_t count;
    work_start(p, &w);
    grid_fill(&w, &grid);
    count = find_valleys(p, &grid, valley);
    for (size_t i = 0; i < count; i++) {
        go_down(&w, &grid, &valley[i]);
        try_point(&w, &valley[i], &best);
    }
    try_exchanged(&w, &best);
    finish(&w, &best);
    set_solution(&w, &best, out);
    if (free_of(p, &best).count > 0)
        set_inverse(&w, &best, out);
    free(w.block);
    free(grid.rss);
}
