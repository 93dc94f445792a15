/* fit: see fit.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/fit.h"

#include "calibrate/separable.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* ---- a kind of model as a separable problem ---- */

/* Fatigue lowers readiness: its column is negated, so that its gain is not
 * negative. */
typedef struct {
    ResponseKind kind;
    const TestData *data;
    Param tau[SHAPE_TAUS];
    Param gain; /* of fatigue, PARAMS: none */
    Separable separable;
} Problem;

static void columns(void *context, const double *taus, bool slopes,
                    double *const *column, double *const *slope) {
    const Problem *p = context;
    double all[SHAPE_TAUS] = {0};
    Basis b = {.fitness = column[0], .fatigue = column[1]};
    for (int i = 0; i < SHAPE_TAUS; i++)
        b.slope[i] = slope[i];
    for (int i = 0; i < p->separable.shapes; i++)
        all[i] = taus[i];
    basis_run(p->kind, all, p->data, slopes, &b);
    for (size_t k = 0; k < p->data->count && p->gain != PARAMS; k++)
        column[1][k] = -column[1][k];
    for (int i = 0; i < p->separable.shapes && slopes; i++)
        for (size_t k = 0; k < p->data->count && !b.slope_is_fitness[i]; k++)
            slope[i][k] = -slope[i][k];
}

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
    static const int grid[] = {0, 300, 60, 24};
    Separable *s = &p->separable;
    *p = (Problem){.kind = kind, .data = data};
    *s = (Separable){.rows = data->count,
                     .value = data->value,
                     .weight = data->weight,
                     .level = true,
                     .ratio = ratio,
                     .columns = columns,
                     .context = p};
    s->shapes = basis_taus(kind, p->tau);
    s->grid = grid[s->shapes];
    p->gain = basis_fatigue_gain(kind);
    s->gains = p->gain == PARAMS ? 1 : 2;
    for (int i = 0; i < s->shapes; i++) {
        bool of_fatigue = p->tau[i] == PARAM_TAU2 || p->tau[i] == PARAM_TAU3;
        bool free = p->tau[i] == PARAM_TAU1 || p->tau[i] == PARAM_TAU3;
        s->of[i] = of_fatigue;
        s->below[i] = free ? i : 0;
        s->least[i] = least[p->tau[i]];
        s->most[i] = most[p->tau[i]];
    }
}

double fit_rss_at(ResponseKind kind, const double taus[SHAPE_TAUS],
                  const TestData *data) {
    Problem p;
    problem_start(&p, kind, data);
    return separable_rss_at(&p.separable, taus);
}

/* ---- what is known of the estimates ---- */

/* Which parameter of the solution is which of the model; -1: none. */
static int place_of(const Problem *p, Param param) {
    if (param == PARAM_P0)
        return 0;
    if (param == PARAM_K1)
        return 1;
    if (param == p->gain)
        return 2;
    for (int i = 0; i < p->separable.shapes; i++)
        if (p->tau[i] == param)
            return SEPARABLE_SHAPE_0 + i;
    return -1;
}

static void set_errors(const Problem *p, const Separated *solution, Fit *fit) {
    fit->condition = solution->condition;
    for (int a = 0; a < PARAMS; a++)
        for (int b = 0; b < PARAMS; b++) {
            int i = place_of(p, (Param)a), k = place_of(p, (Param)b);
            if (i >= 0 && k >= 0)
                fit->covariance[a][b] =
                    fit->sigma * fit->sigma * solution->inverse[i][k];
        }
    for (int a = 0; a < PARAMS; a++)
        fit->se[a] = sqrt(fit->covariance[a][a]);
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

static void set_params(const Problem *p, const Separated *solution, Fit *fit) {
    for (int a = 0; a < PARAMS; a++) {
        int i = place_of(p, (Param)a);
        if (i < 0)
            continue;
        fit->params.value[a] = solution->value[i];
        fit->on_bound[a] = solution->on_bound[i];
    }
    fit->free = 1 + (size_t)(p->separable.gains + p->separable.shapes);
    fit->rss = solution->rss;
}

void fit_best(ResponseKind kind, const TestData *data, Fit *fit) {
    Problem p;
    Separated solution;
    fit_start(kind, fit);
    problem_start(&p, kind, data);
    separable_solve(&p.separable, &solution);
    set_params(&p, &solution, fit);
    set_measures(data, fit);
    if (fit->exists)
        set_errors(&p, &solution, fit);
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

void fit_spend(const TestData *data, size_t more, Fit *fit) {
    double sigma = fit->sigma, scale;
    fit->free += more;
    set_measures(data, fit);
    scale = fit->exists ? fit->sigma / sigma : NAN;
    for (int a = 0; a < PARAMS; a++) {
        fit->se[a] *= scale;
        for (int b = 0; b < PARAMS; b++)
            fit->covariance[a][b] *= scale * scale;
    }
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
