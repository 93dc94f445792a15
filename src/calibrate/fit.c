/* fit: see fit.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/fit.h"

#include "base/mem.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- level and gains at given time constants ---- */

typedef struct {
    double p0, k1, k; /* k: of fatigue */
    double rss;
} Linear;

/* Weighted means and centred sums of products. */
typedef struct {
    double w, f, g, y; /* sum of weights, means */
    double ff, gg, fg, fy, gy, yy;
} Sums;

static Sums sums_of(const TestData *d, const Basis *b, bool has_fatigue) {
    Sums s = {0};
    for (size_t i = 0; i < d->count; i++) {
        s.w += d->weight[i];
        s.f += d->weight[i] * b->fitness[i];
        s.g += has_fatigue ? d->weight[i] * b->fatigue[i] : 0;
        s.y += d->weight[i] * d->value[i];
    }
    s.f /= s.w;
    s.g /= s.w;
    s.y /= s.w;
    for (size_t i = 0; i < d->count; i++) {
        double f = b->fitness[i] - s.f, y = d->value[i] - s.y;
        double g = has_fatigue ? s.g - b->fatigue[i] : 0; /* lowers */
        s.ff += d->weight[i] * f * f;
        s.gg += d->weight[i] * g * g;
        s.fg += d->weight[i] * f * g;
        s.fy += d->weight[i] * f * y;
        s.gy += d->weight[i] * g * y;
        s.yy += d->weight[i] * y * y;
    }
    return s;
}

/* Keeps the better of two solutions. */
static void consider(const Sums *s, double k1, double k, Linear *best) {
    double rss = s->yy - 2 * (k1 * s->fy + k * s->gy) + k1 * k1 * s->ff +
                 2 * k1 * k * s->fg + k * k * s->gg;
    if (k1 < 0 || k < 0 || !isfinite(rss) || rss >= best->rss)
        return;
    *best = (Linear){s->y - k1 * s->f + k * s->g, k1, k, rss};
}

/* Non-negative least squares in two unknowns: the four corners of the active
 * set. */
static Linear solve_linear(const Sums *s) {
    Linear best = {s->y, 0, 0, s->yy};
    double det = s->ff * s->gg - s->fg * s->fg;
    if (s->ff > 0)
        consider(s, s->fy / s->ff, 0, &best);
    if (s->gg > 0)
        consider(s, 0, s->gy / s->gg, &best);
    if (det > 1e-14 * s->ff * s->gg)
        consider(s, (s->gg * s->fy - s->fg * s->gy) / det,
                 (s->ff * s->gy - s->fg * s->fy) / det, &best);
    return best;
}

/* ---- the problem ---- */

enum { PARAMETERS_MOST = 3 + SHAPE_TAUS };

typedef struct {
    ResponseKind kind;
    const TestData *data;
    int taus; /* how many time constants */
    Param tau[SHAPE_TAUS];
    Param gain; /* of fatigue, PARAMS: none */
    Basis basis;
} Problem;

static const double least[PARAMS] = {[PARAM_TAU1] = 1.1,
                                     [PARAM_TAU2] = 1,
                                     [PARAM_TAU_RISE] = .5,
                                     [PARAM_TAU3] = .5};
static const double most[PARAMS] = {[PARAM_TAU1] = 200,
                                    [PARAM_TAU2] = 200 / 1.1,
                                    [PARAM_TAU_RISE] = 200 / 1.1,
                                    [PARAM_TAU3] = 60};
static const double ratio = 1.1; /* least tau1/tau2, tau1/tau_rise */

static void problem_start(Problem *p, ResponseKind kind, const TestData *data) {
    *p = (Problem){.kind = kind, .data = data};
    p->taus = basis_taus(kind, p->tau);
    p->gain = basis_fatigue_gain(kind);
    basis_allocate(data->count, &p->basis);
}

/* Upper bound of a time constant, given tau1. */
static double upper(const Problem *p, int i, double tau1) {
    double bound = most[p->tau[i]];
    if (p->tau[i] == PARAM_TAU2 || p->tau[i] == PARAM_TAU_RISE)
        bound = fmin(bound, tau1 / ratio);
    return bound;
}

static bool inside(const Problem *p, const double *taus) {
    for (int i = 0; i < p->taus; i++)
        if (taus[i] < least[p->tau[i]] * (1 - 1e-12) ||
            taus[i] > upper(p, i, taus[0]) * (1 + 1e-12))
            return false;
    return true;
}

static Linear solve_at(Problem *p, const double *taus) {
    Sums sums;
    basis_run(p->kind, taus, p->data, false, &p->basis);
    sums = sums_of(p->data, &p->basis, p->gain != PARAMS);
    return solve_linear(&sums);
}

static double rss_at(Problem *p, const double *taus) {
    return inside(p, taus) ? solve_at(p, taus).rss : INFINITY;
}

double fit_rss_at(ResponseKind kind, const double taus[SHAPE_TAUS],
                  const TestData *data) {
    Problem p;
    double rss;
    problem_start(&p, kind, data);
    rss = rss_at(&p, taus);
    basis_free(&p.basis);
    return rss;
}

/* ---- the grid ---- */

enum { VALLEYS = 12 };

typedef struct {
    double tau[SHAPE_TAUS];
    double rss;
} Point;

typedef struct {
    int size;     /* points along each axis */
    size_t count; /* of all points */
    double *rss;
    double step[SHAPE_TAUS]; /* of ln tau */
} Grid;

static void grid_point(const Problem *p, const Grid *g, size_t index,
                       double *taus) {
    for (int i = 0; i < p->taus; i++) {
        double along = (double)(index % (size_t)g->size);
        taus[i] = least[p->tau[i]] * exp(along * g->step[i]);
        index /= (size_t)g->size;
    }
}

static void grid_fill(Problem *p, Grid *g) {
    static const int sizes[] = {0, 300, 60, 24};
    double taus[SHAPE_TAUS] = {0};
    g->size = sizes[p->taus];
    g->count = 1;
    for (int i = 0; i < p->taus; i++) {
        g->count *= (size_t)g->size;
        g->step[i] = log(most[p->tau[i]] / least[p->tau[i]]) / (g->size - 1);
    }
    g->rss = mem_new(g->count, sizeof *g->rss);
    for (size_t index = 0; index < g->count; index++) {
        grid_point(p, g, index, taus);
        g->rss[index] = rss_at(p, taus);
    }
}

/* Is no neighbour, diagonal ones included, lower? */
static bool is_valley(const Problem *p, const Grid *g, size_t index) {
    int at[SHAPE_TAUS], all = 1;
    size_t rest = index;
    for (int i = 0; i < p->taus; i++) {
        at[i] = (int)(rest % (size_t)g->size);
        rest /= (size_t)g->size;
        all *= 3;
    }
    for (int n = 0; n < all; n++) {
        size_t other = 0, stride = 1;
        bool there = true;
        int code = n;
        for (int i = 0; i < p->taus; i++, code /= 3) {
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
static size_t find_valleys(const Problem *p, const Grid *g, Point *valley) {
    size_t count = 0;
    for (size_t index = 0; index < g->count; index++) {
        Point point = {.rss = g->rss[index]};
        size_t k;
        if (!is_valley(p, g, index))
            continue;
        if (count == VALLEYS && point.rss >= valley[count - 1].rss)
            continue;
        grid_point(p, g, index, point.tau);
        if (count < VALLEYS)
            count++;
        for (k = count - 1; k > 0 && valley[k - 1].rss > point.rss; k--)
            valley[k] = valley[k - 1];
        valley[k] = point;
    }
    return count;
}

/* ---- down a valley ---- */

/* Looks around at a distance in ln tau; moves to the best neighbour. */
static bool step_down(Problem *p, Point *point, const double *step) {
    Point best = *point;
    int all = p->taus == 1 ? 3 : p->taus == 2 ? 9 : 27;
    for (int n = 0; n < all; n++) {
        Point next = *point;
        int code = n;
        for (int i = 0; i < p->taus; i++, code /= 3)
            next.tau[i] = fmax(least[p->tau[i]],
                               next.tau[i] * exp((code % 3 - 1) * step[i]));
        for (int i = 0; i < p->taus; i++)
            next.tau[i] = fmin(next.tau[i], upper(p, i, next.tau[0]));
        next.rss = rss_at(p, next.tau);
        if (next.rss < best.rss)
            best = next;
    }
    if (best.rss >= point->rss)
        return false;
    *point = best;
    return true;
}

static void go_down(Problem *p, const Grid *g, Point *point) {
    double step[SHAPE_TAUS];
    int moves = 0;
    memcpy(step, g->step, sizeof step);
    while (step[0] > 1e-7 && moves < 2000) {
        if (step_down(p, point, step))
            moves++;
        else
            for (int i = 0; i < p->taus; i++)
                step[i] /= 2;
    }
}

/* ---- Levenberg-Marquardt in all parameters ---- */

/* The free ones in a row: p0, k1, the gain of fatigue, ln tau ... */
typedef struct {
    int count;
    int which[PARAMETERS_MOST]; /* 0 p0, 1 k1, 2 gain, 3 + i: ln tau[i] */
} Free;

typedef struct {
    Linear linear;
    Point point;
} Candidate;

static bool at_bound(const Problem *p, const double *taus, int i) {
    return taus[i] <= least[p->tau[i]] * (1 + 1e-9) ||
           taus[i] >= upper(p, i, taus[0]) * (1 - 1e-9);
}

/* A gain of 0 leaves its time constants undetermined. */
static Free free_of(const Problem *p, const Candidate *x) {
    Free f = {.count = 1};
    bool fitness = x->linear.k1 > 0, fatigue = x->linear.k > 0;
    if (fitness)
        f.which[f.count++] = 1;
    if (fatigue)
        f.which[f.count++] = 2;
    for (int i = 0; i < p->taus; i++)
        if ((p->basis.slope_is_fitness[i] ? fitness : fatigue) &&
            !at_bound(p, x->point.tau, i))
            f.which[f.count++] = 3 + i;
    return f;
}

static double model_at(const Problem *p, const Candidate *x, size_t i) {
    double value = x->linear.p0 + x->linear.k1 * p->basis.fitness[i];
    if (p->gain != PARAMS)
        value -= x->linear.k * p->basis.fatigue[i];
    return value;
}

static double column(const Problem *p, const Candidate *x, int which,
                     size_t i) {
    const Basis *b = &p->basis;
    if (which == 0)
        return 1;
    if (which == 1)
        return b->fitness[i];
    if (which == 2)
        return -b->fatigue[i];
    return b->slope_is_fitness[which - 3]
               ? x->linear.k1 * b->slope[which - 3][i]
               : -x->linear.k * b->slope[which - 3][i];
}

/* Weighted residual sum; the basis must be that of `x`. */
static double residuals(const Problem *p, const Candidate *x) {
    double sum = 0;
    for (size_t i = 0; i < p->data->count; i++) {
        double r = p->data->value[i] - model_at(p, x, i);
        sum += p->data->weight[i] * r * r;
    }
    return sum;
}

/* Solves the damped step; false when the matrix is of no use. */
static bool damped_step(const Problem *p, const Candidate *x, const Free *f,
                        double damping, double *step) {
    size_t rows = p->data->count, n = (size_t)f->count;
    gsl_matrix *a = gsl_matrix_calloc(rows + n, n);
    gsl_vector *b = gsl_vector_calloc(rows + n), *tau = gsl_vector_alloc(n);
    gsl_vector *solution = gsl_vector_alloc(n);
    gsl_vector *left = gsl_vector_alloc(rows + n);
    bool good;
    if (!a || !b || !tau || !solution || !left)
        mem_out();
    for (size_t i = 0; i < rows; i++) {
        double root = sqrt(p->data->weight[i]);
        gsl_vector_set(b, i, root * (p->data->value[i] - model_at(p, x, i)));
        for (size_t k = 0; k < n; k++)
            gsl_matrix_set(a, i, k, root * column(p, x, f->which[k], i));
    }
    for (size_t k = 0; k < n; k++) {
        double size = 0;
        for (size_t i = 0; i < rows; i++)
            size += gsl_matrix_get(a, i, k) * gsl_matrix_get(a, i, k);
        gsl_matrix_set(a, rows + k, k, sqrt(damping * size) + 1e-300);
    }
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

static bool apply_step(const Problem *p, const Free *f, const double *step,
                       Candidate *x) {
    for (int k = 0; k < f->count; k++) {
        int which = f->which[k];
        if (which == 0)
            x->linear.p0 += step[k];
        else if (which == 1)
            x->linear.k1 += step[k];
        else if (which == 2)
            x->linear.k += step[k];
        else
            x->point.tau[which - 3] *= exp(fmax(-1, fmin(1, step[k])));
    }
    return x->linear.k1 >= 0 && x->linear.k >= 0 && inside(p, x->point.tau);
}

static double largest(const Free *f, const double *step, const Candidate *x) {
    double most_moved = 0;
    for (int k = 0; k < f->count; k++) {
        int which = f->which[k];
        double size = which == 0   ? fabs(x->linear.p0)
                      : which == 1 ? x->linear.k1
                      : which == 2 ? x->linear.k
                                   : 1;
        most_moved = fmax(most_moved, fabs(step[k]) / fmax(size, 1e-300));
    }
    return most_moved;
}

/* Ends when a step moves no parameter by more than 1e-13 of itself, or when
 * nothing gets better. */
static void polish(Problem *p, Candidate *x) {
    double damping = 1e-4, step[PARAMETERS_MOST];
    basis_run(p->kind, x->point.tau, p->data, true, &p->basis);
    x->point.rss = residuals(p, x);
    for (int round = 0; round < 300 && damping < 1e12; round++) {
        Free f = free_of(p, x);
        Candidate next = *x;
        bool fits = damped_step(p, x, &f, damping, step) &&
                    apply_step(p, &f, step, &next);
        if (fits) {
            basis_run(p->kind, next.point.tau, p->data, true, &p->basis);
            next.point.rss = residuals(p, &next);
        }
        if (fits && next.point.rss < x->point.rss) {
            bool small = largest(&f, step, x) < 1e-13;
            *x = next;
            damping = fmax(damping / 10, 1e-16);
            if (small)
                break;
            continue;
        }
        basis_run(p->kind, x->point.tau, p->data, true, &p->basis);
        if (fits && damping < 1e-12 && largest(&f, step, x) < 1e-11)
            break;
        damping *= 10;
    }
    basis_run(p->kind, x->point.tau, p->data, true, &p->basis);
}

/* Takes a Gauss-Newton step, or a part of it, if it does not lead away. */
static bool undamped(Problem *p, const Free *f, const double *step,
                     Candidate *x) {
    double part[PARAMETERS_MOST], share = 1;
    for (int halving = 0; halving < 8; halving++, share /= 4) {
        Candidate next = *x;
        for (int k = 0; k < f->count; k++)
            part[k] = share * step[k];
        if (!apply_step(p, f, part, &next))
            continue;
        basis_run(p->kind, next.point.tau, p->data, true, &p->basis);
        next.point.rss = residuals(p, &next);
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
static void finish(Problem *p, Candidate *x) {
    double step[PARAMETERS_MOST];
    for (int round = 0; round < 60; round++) {
        Free f = free_of(p, x);
        if (!damped_step(p, x, &f, 0, step) || !undamped(p, &f, step, x) ||
            largest(&f, step, x) < 1e-13)
            break;
    }
    basis_run(p->kind, x->point.tau, p->data, true, &p->basis);
}

/* ---- what is known of the estimates ---- */

static Param param_of(const Problem *p, int which) {
    if (which == 0)
        return PARAM_P0;
    if (which == 1)
        return PARAM_K1;
    return which == 2 ? p->gain : p->tau[which - 3];
}

/* The Jacobian in natural units, columns scaled to length 1. */
static gsl_matrix *jacobian(const Problem *p, const Candidate *x, const Free *f,
                            double *length) {
    gsl_matrix *a = gsl_matrix_alloc(p->data->count, (size_t)f->count);
    if (!a)
        mem_out();
    for (int k = 0; k < f->count; k++) {
        int which = f->which[k];
        double scale = which < 3 ? 1 : 1 / x->point.tau[which - 3], sum = 0;
        for (size_t i = 0; i < p->data->count; i++) {
            double value =
                sqrt(p->data->weight[i]) * scale * column(p, x, which, i);
            gsl_matrix_set(a, i, (size_t)k, value);
            sum += value * value;
        }
        length[k] = sqrt(sum);
        for (size_t i = 0; i < p->data->count; i++)
            gsl_matrix_set(a, i, (size_t)k,
                           gsl_matrix_get(a, i, (size_t)k) /
                               fmax(length[k], 1e-300));
    }
    return a;
}

/* Covariance sigma^2 (J'J)^-1 by singular values. */
static void set_errors(const Problem *p, const Candidate *x, Fit *fit) {
    Free f = free_of(p, x);
    double length[PARAMETERS_MOST];
    size_t n = (size_t)f.count;
    gsl_matrix *a = jacobian(p, x, &f, length), *v = gsl_matrix_alloc(n, n);
    gsl_vector *s = gsl_vector_alloc(n), *work = gsl_vector_alloc(n);
    bool useful;
    if (!v || !s || !work)
        mem_out();
    useful = p->data->count >= n && gsl_linalg_SV_decomp(a, v, s, work) == 0;
    fit->condition =
        useful ? gsl_vector_get(s, 0) / gsl_vector_get(s, n - 1) : INFINITY;
    useful = useful && fit->condition < 1e12;
    for (size_t i = 0; i < n && useful; i++)
        for (size_t k = 0; k < n; k++) {
            double sum = 0;
            for (size_t m = 0; m < n; m++)
                sum += gsl_matrix_get(v, i, m) * gsl_matrix_get(v, k, m) /
                       pow(gsl_vector_get(s, m), 2);
            fit->covariance[param_of(p, f.which[i])][param_of(p, f.which[k])] =
                fit->sigma * fit->sigma * sum / (length[i] * length[k]);
        }
    for (size_t i = 0; i < n && useful; i++) {
        Param param = param_of(p, f.which[i]);
        fit->se[param] = sqrt(fit->covariance[param][param]);
    }
    gsl_matrix_free(a);
    gsl_matrix_free(v);
    gsl_vector_free(s);
    gsl_vector_free(work);
}

static void set_measures(const TestData *d, Fit *fit) {
    double n = (double)d->count, k = (double)fit->free + 1, mean = 0, all = 0;
    double weights = 0, size = 0;
    for (size_t i = 0; i < d->count; i++) {
        mean += d->weight[i] * d->value[i];
        size += d->weight[i] * d->value[i] * d->value[i];
        weights += d->weight[i];
    }
    mean /= weights;
    for (size_t i = 0; i < d->count; i++)
        all += d->weight[i] * pow(d->value[i] - mean, 2);
    fit->tests = d->count;
    fit->exists = d->count > fit->free;
    fit->sigma = fit->exists ? sqrt(fit->rss / (n - (double)fit->free)) : NAN;
    /* equal tests, but for rounding, leave nothing to explain */
    fit->r2 = all > 1e-25 * size ? 1 - fit->rss / all : NAN;
    fit->aicc = n > k + 1 && fit->rss > 0 ? n * log(fit->rss / n) + 2 * k +
                                                2 * k * (k + 1) / (n - k - 1)
                                          : NAN;
}

static void fit_start(ResponseKind kind, Fit *fit) {
    *fit = (Fit){.params.kind = kind};
    for (int i = 0; i < PARAMS; i++) {
        fit->params.value[i] = fit->se[i] = NAN;
        for (int k = 0; k < PARAMS; k++)
            fit->covariance[i][k] = NAN;
    }
}

static void set_params(const Problem *p, const Candidate *x, Fit *fit) {
    fit->params.value[PARAM_P0] = x->linear.p0;
    fit->params.value[PARAM_K1] = x->linear.k1;
    fit->on_bound[PARAM_K1] = x->linear.k1 <= 0;
    if (p->gain != PARAMS) {
        fit->params.value[p->gain] = x->linear.k;
        fit->on_bound[p->gain] = x->linear.k <= 0;
    }
    for (int i = 0; i < p->taus; i++) {
        fit->params.value[p->tau[i]] = x->point.tau[i];
        fit->on_bound[p->tau[i]] = at_bound(p, x->point.tau, i);
    }
    fit->free = 2 + (size_t)(p->gain != PARAMS) + (size_t)p->taus;
    fit->rss = x->point.rss;
}

void fit_best(ResponseKind kind, const TestData *data, Fit *fit) {
    Problem p;
    Grid grid;
    Point valley[VALLEYS];
    Candidate best = {.point.rss = INFINITY};
    size_t count;
    fit_start(kind, fit);
    problem_start(&p, kind, data);
    grid_fill(&p, &grid);
    count = find_valleys(&p, &grid, valley);
    for (size_t i = 0; i < count; i++) {
        Candidate x;
        go_down(&p, &grid, &valley[i]);
        x.point = valley[i];
        x.linear = solve_at(&p, x.point.tau);
        polish(&p, &x);
        if (x.point.rss < best.point.rss)
            best = x;
    }
    basis_run(kind, best.point.tau, data, true, &p.basis);
    finish(&p, &best);
    set_params(&p, &best, fit);
    set_measures(data, fit);
    if (fit->exists)
        set_errors(&p, &best, fit);
    basis_free(&p.basis);
    free(grid.rss);
}

void fit_constant(const TestData *data, Fit *fit) {
    double mean = 0, weights = 0;
    fit_start(RESPONSE_ONE_COMPONENT, fit);
    for (size_t i = 0; i < data->count; i++) {
        mean += data->weight[i] * data->value[i];
        weights += data->weight[i];
    }
    mean /= weights;
    for (size_t i = 0; i < data->count; i++)
        fit->rss += data->weight[i] * pow(data->value[i] - mean, 2);
    fit->params.value[PARAM_P0] = mean;
    fit->params.value[PARAM_K1] = 0;
    fit->free = 1;
    set_measures(data, fit);
}

double fit_correlation(const Fit *fit, Param a, Param b) {
    return fit->covariance[a][b] / (fit->se[a] * fit->se[b]);
}

double fit_f_test(const Fit *smaller, const Fit *larger) {
    double more = (double)larger->free - (double)smaller->free;
    double left = (double)larger->tests - (double)larger->free;
    double f;
    if (!larger->exists || more <= 0)
        return NAN;
    f = (smaller->rss - larger->rss) / more / (larger->rss / left);
    return gsl_cdf_fdist_Q(fmax(0, f), more, left);
}
