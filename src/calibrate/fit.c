/* fit: see fit.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/fit.h"

#include "calibrate/projection.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* ---- the kinds as separable problems ---- */

/* Gain 0 is that of fitness, gain 1 that of fatigue; shapes are the time
 * constants in the order of basis_taus(). */
typedef struct {
    ResponseKind kind;
    const TestData *data;
    int taus;
    Param tau[SHAPE_TAUS];
    Param gain; /* of fatigue, PARAMS: none */
} Problem;

static const double least[PARAMS] = {[PARAM_TAU1] = 1.1,
                                     [PARAM_TAU2] = 1,
                                     [PARAM_TAU_RISE] = .5,
                                     [PARAM_TAU3] = .5};
static const double most[PARAMS] = {[PARAM_TAU1] = 200,
                                    [PARAM_TAU2] = 200 / 1.1,
                                    [PARAM_TAU_RISE] = 200 / 1.1,
                                    [PARAM_TAU3] = 60};

/* Fatigue lowers. */
static void columns(void *context, const double *shape, double *const *column,
                    double *const *slope) {
    const Problem *p = context;
    Basis b = {.fitness = column[0], .fatigue = column[1]};
    for (int i = 0; i < SHAPE_TAUS && slope; i++)
        b.slope[i] = slope[i];
    basis_run(p->kind, shape, p->data, slope != NULL, &b);
    for (size_t i = 0; i < p->data->count; i++) {
        b.fatigue[i] = -b.fatigue[i];
        for (int k = 0; k < p->taus && slope; k++)
            if (!b.slope_is_fitness[k])
                slope[k][i] = -slope[k][i];
    }
}

static void many_columns(void *context, size_t count, const double *shape,
                         double *const *column) {
    const Problem *p = context;
    basis_many(p->kind, count, shape, p->data, column[0], column[1]);
    for (size_t i = 0; i < count * p->data->count && p->gain != PARAMS; i++)
        column[1][i] = -column[1][i];
}

static void problem_start(ResponseKind kind, const TestData *data, Problem *p,
                          Separable *s) {
    *p = (Problem){.kind = kind, .data = data};
    p->taus = basis_taus(kind, p->tau);
    p->gain = basis_fatigue_gain(kind);
    *s = (Separable){.rows = data->count,
                     .value = data->value,
                     .weight = data->weight,
                     .level = true,
                     .gains = p->gain == PARAMS ? 1 : 2,
                     .shapes = p->taus,
                     .ratio = 1.1,
                     .columns = columns,
                     .many = many_columns,
                     .context = p};
    for (int i = 0; i < p->taus; i++) {
        Param tau = p->tau[i];
        s->least[i] = least[tau];
        s->most[i] = most[tau];
        s->under[i] = tau == PARAM_TAU2 || tau == PARAM_TAU_RISE ? 0 : i;
        s->belongs[i] = tau == PARAM_TAU2 || tau == PARAM_TAU3;
    }
}

double fit_rss_at(ResponseKind kind, const double taus[SHAPE_TAUS],
                  const TestData *data) {
    Problem p;
    Separable s;
    problem_start(kind, data, &p, &s);
    return projection_rss_at(&s, taus);
}

/* ---- what is known of the estimates ---- */

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

/* Which parameter stands at a place of the separable fit. */
static Param param_at(const Problem *p, const Separable *s, int at) {
    if (at == 0)
        return PARAM_P0;
    if (at <= s->gains)
        return at == 1 ? PARAM_K1 : p->gain;
    return p->tau[at - 1 - s->gains];
}

static void set_params(const Problem *p, const Separable *s,
                       const SeparableFit *found, Fit *fit) {
    fit->free = (size_t)(1 + s->gains + s->shapes);
    fit->rss = found->rss;
    fit->params.value[PARAM_P0] = found->level;
    for (int k = 0; k < s->gains; k++)
        fit->params.value[param_at(p, s, 1 + k)] = found->gain[k];
    for (int i = 0; i < s->shapes; i++)
        fit->params.value[p->tau[i]] = found->shape[i];
    for (int i = 0; i < (int)fit->free; i++)
        fit->on_bound[param_at(p, s, i)] = found->on_bound[i];
}

/* Covariance sigma^2 (J'J)^-1. */
static void set_errors(const Problem *p, const Separable *s,
                       const SeparableFit *found, Fit *fit) {
    int all = 1 + s->gains + s->shapes;
    fit->condition = found->condition;
    for (int i = 0; i < all; i++) {
        Param a = param_at(p, s, i);
        for (int k = 0; k < all; k++)
            fit->covariance[a][param_at(p, s, k)] =
                fit->sigma * fit->sigma * found->covariance[i][k];
        fit->se[a] = sqrt(fit->covariance[a][a]);
    }
}

void fit_best(ResponseKind kind, const TestData *data, Fit *fit) {
    Problem p;
    Separable s;
    SeparableFit found;
    fit_start(kind, fit);
    problem_start(kind, data, &p, &s);
    projection_run(&s, true, &found);
    set_params(&p, &s, &found, fit);
    fit->free += data->fitted;
    set_measures(data, fit);
    if (fit->exists)
        set_errors(&p, &s, &found, fit);
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
    if (!larger->exists || more <= 0 || isnan(larger->r2))
        return NAN;
    f = (smaller->rss - larger->rss) / more / (larger->rss / left);
    return gsl_cdf_fdist_Q(fmax(0, f), more, left);
}
