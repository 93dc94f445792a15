/* posterior: see posterior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/posterior.h"

#include "base/mem.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sf_erf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = PARAMS + 1 }; /* dimensions: shape and ln sigma */

static const double apart = 1.3;     /* least tau1/tau2 */
static const double from_prior = .2; /* share of a later round */
static const double widened = 1.5;   /* factor on the SD of a later round */

PosteriorPrior posterior_prior(const TestData *data) {
    double mean = 0;
    PosteriorPrior prior = {1, 1, 1};
    for (size_t i = 0; i < data->count; i++)
        mean += fabs(data->value[i]) / (double)data->count;
    if (mean > 0) {
        prior.effect = .05 * mean;
        prior.sigma = .02 * mean;
    }
    if (isfinite(data->error)) {
        prior.sigma = data->error;
        prior.sigma_shape = 4;
    }
    return prior;
}

/* Everything a run carries along. */
typedef struct {
    const Model *model;
    const TestData *data;
    const PosteriorPrior *prior;
    int shapes; /* parameters with a spread */
    Param which[PARAMS];
    double centre[PARAMS]; /* of the prior, of ln(parameter) */
    double constant;       /* of its log density */
    int dimensions;        /* shapes + 1 */
    size_t count;          /* proposals */
    double *theta;         /* [count * dimensions] */
    double *weight;        /* [count] */
    ResponseParams *unit;  /* [count] with k1 = 1, p0 = 0 */
    double *z;             /* [count * tests] response at each test */
    double *spread;        /* [count] SD of z over the log */
    double mean[MOST];     /* of the proposal */
    gsl_matrix *root;      /* its Cholesky factor */
    bool adapted;
} Sampler;

/* ---- densities ---- */

/* Centre of ln(parameter); gains of fatigue count relative to k1. */
static double centre_of(const Sampler *s, int i) {
    const double *v = s->model->params.value;
    Param param = s->which[i];
    bool gain = param == PARAM_K2 || param == PARAM_K3;
    return log(gain ? v[param] / v[PARAM_K1] : v[param]);
}

static double scale_of_sigma(const Sampler *s) {
    return s->prior->sigma_shape * s->prior->sigma * s->prior->sigma;
}

/* Of the spreads, and of sigma^2's inverse gamma as a density of ln sigma. */
static double constant_of(const Sampler *s) {
    double a = s->prior->sigma_shape, sum = 0;
    for (int i = 0; i < s->shapes; i++)
        sum -= log(s->model->spread[s->which[i]] * sqrt(2 * M_PI));
    return sum + log(2) + a * log(scale_of_sigma(s)) - lgamma(a);
}

static double log_prior(const Sampler *s, const double *theta) {
    double sum = s->constant, log_sigma = theta[s->shapes];
    for (int i = 0; i < s->shapes; i++) {
        double x = (theta[i] - s->centre[i]) / s->model->spread[s->which[i]];
        sum -= .5 * x * x;
    }
    return sum - 2 * s->prior->sigma_shape * log_sigma -
           scale_of_sigma(s) * exp(-2 * log_sigma);
}

static double log_normal(const Sampler *s, const double *theta) {
    int n = s->dimensions;
    double x[MOST], sum = 0;
    for (int i = 0; i < n; i++) {
        double own = gsl_matrix_get(s->root, (size_t)i, (size_t)i);
        x[i] = theta[i] - s->mean[i];
        for (int k = 0; k < i; k++)
            x[i] -= gsl_matrix_get(s->root, (size_t)i, (size_t)k) * x[k];
        x[i] /= own;
        sum -= .5 * x[i] * x[i] + log(own * sqrt(2 * M_PI));
    }
    return sum;
}

static double log_proposal(const Sampler *s, const double *theta) {
    double p = log_prior(s, theta), q;
    if (!s->adapted)
        return p;
    q = log_normal(s, theta);
    return fmax(p, q) + log(from_prior * exp(p - fmax(p, q)) +
                            (1 - from_prior) * exp(q - fmax(p, q)));
}

/* ---- level and scale, in closed form ---- */

/* Of one proposal: the scale b = k1 x spread is normal about `mu` with
 * precision `lambda`, cut at 0. */
typedef struct {
    double z, y, weights; /* weighted means, sum of weights */
    double mu, lambda;
    double log_likelihood;
} Inner;

static Inner inner_of(const Sampler *s, size_t at) {
    const TestData *d = s->data;
    const double *z = s->z + at * d->count;
    double sigma =
        exp(s->theta[at * (size_t)s->dimensions + (size_t)s->shapes]);
    double effect = s->prior->effect, xx = 0, xy = 0, yy = 0;
    Inner in = {0};
    for (size_t i = 0; i < d->count; i++) {
        in.weights += d->weight[i];
        in.z += d->weight[i] * z[i];
        in.y += d->weight[i] * d->value[i];
    }
    in.z /= in.weights;
    in.y /= in.weights;
    for (size_t i = 0; i < d->count; i++) {
        double x = (z[i] - in.z) / s->spread[at], y = d->value[i] - in.y;
        xx += d->weight[i] * x * x;
        xy += d->weight[i] * x * y;
        yy += d->weight[i] * y * y;
    }
    in.lambda = xx / (sigma * sigma) + 1 / (effect * effect);
    in.mu = xy / (sigma * sigma) / in.lambda;
    in.log_likelihood =
        -((double)d->count - 1) * log(sigma) - yy / (2 * sigma * sigma) +
        .5 * in.lambda * in.mu * in.mu - .5 * log(in.lambda) - log(effect) +
        gsl_sf_log_erfc(-in.mu * sqrt(in.lambda / 2));
    return in;
}

/* ---- proposals ---- */

static void set_shift(gsl_rng *rng, double shift[MOST + 1]) {
    for (int i = 0; i <= MOST; i++)
        shift[i] = gsl_rng_uniform(rng);
}

static double turn(double point, double shift) {
    double u = point + shift;
    u -= floor(u);
    return fmin(fmax(u, 0x1p-40), 1 - 0x1p-40);
}

static void propose(const Sampler *s, const double *u, double *theta) {
    double a = s->prior->sigma_shape;
    double b = scale_of_sigma(s);
    double x[MOST];
    int n = s->dimensions;
    if (!s->adapted || u[n] < from_prior) {
        for (int i = 0; i < s->shapes; i++)
            theta[i] = s->centre[i] + s->model->spread[s->which[i]] *
                                          gsl_cdf_ugaussian_Pinv(u[i]);
        theta[s->shapes] = .5 * log(b / gsl_cdf_gamma_Pinv(u[s->shapes], a, 1));
        return;
    }
    for (int i = 0; i < n; i++) {
        x[i] = gsl_cdf_ugaussian_Pinv(u[i]);
        theta[i] = s->mean[i];
        for (int k = 0; k <= i; k++)
            theta[i] += gsl_matrix_get(s->root, (size_t)i, (size_t)k) * x[k];
    }
}

static void set_unit(const Sampler *s, const double *theta,
                     ResponseParams *unit) {
    const double *v = s->model->params.value;
    *unit = s->model->params;
    unit->value[PARAM_P0] = 0;
    unit->value[PARAM_K1] = 1;
    if (response_has(unit->kind, PARAM_K2))
        unit->value[PARAM_K2] = v[PARAM_K2] / v[PARAM_K1];
    if (response_has(unit->kind, PARAM_K3))
        unit->value[PARAM_K3] = v[PARAM_K3] / v[PARAM_K1];
    for (int i = 0; i < s->shapes; i++)
        unit->value[s->which[i]] = exp(theta[i]);
}

static bool allowed(const ResponseParams *p) {
    double tau1 = p->value[PARAM_TAU1];
    return tau1 < 1000 && !(tau1 <= apart * p->value[PARAM_TAU2]) &&
           !(tau1 <= p->value[PARAM_TAU_RISE]);
}

/* Draws proposals that keep the time constants apart. */
static void fill_round(Sampler *s, size_t wanted, gsl_rng *rng) {
    double shift[MOST + 1], point[MOST + 1], u[MOST + 1];
    int n = s->dimensions;
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)n + 1);
    if (!sobol)
        mem_out();
    set_shift(rng, shift);
    s->count = 0;
    for (size_t tried = 0; s->count < wanted && tried < 20 * wanted; tried++) {
        double *theta = s->theta + s->count * (size_t)n;
        gsl_qrng_get(sobol, point);
        for (int i = 0; i <= n; i++)
            u[i] = turn(point[i], shift[i]);
        propose(s, u, theta);
        set_unit(s, theta, &s->unit[s->count]);
        s->count += allowed(&s->unit[s->count]);
    }
    gsl_qrng_free(sobol);
}

/* ---- responses ---- */

/* As many as the kernel carries side by side: their responses over two years
 * then stay in the processor's nearest memories. */
enum { AT_ONCE = 16 };

/* Inlined with a constant `n`, the compiler computes several at once. */
static inline void add_row(size_t n, const double *row, const double *first,
                           double *mean, double *square) {
    for (size_t k = 0; k < n; k++) {
        double z = row[k] - first[k]; /* less cancellation */
        mean[k] += z;
        square[k] += z * z;
    }
}

/* SD over all steps of `n` responses side by side. */
static void set_spreads(size_t steps, size_t n, const double *all,
                        double *spread) {
    double mean[AT_ONCE] = {0}, square[AT_ONCE] = {0}, first[AT_ONCE];
    memcpy(first, all, n * sizeof *first);
    for (size_t step = 0; step < steps; step++)
        if (n == AT_ONCE)
            add_row(AT_ONCE, all + step * n, first, mean, square);
        else
            add_row(n, all + step * n, first, mean, square);
    for (size_t k = 0; k < n; k++) {
        double m = mean[k] / (double)steps;
        double variance = square[k] / (double)steps - m * m;
        spread[k] =
            fmax(sqrt(fmax(0, variance)), 1e-12 * (1 + fabs(m + all[k])));
    }
}

/* Response at the tests, and its SD over the log, of some proposals. */
static void respond_some(Sampler *s, size_t from, size_t n, ReadWhen when,
                         double *all) {
    const TestData *d = s->data;
    size_t steps = d->timeline.steps;
    kernel_batch(n, s->unit + from, &d->timeline, when, all);
    for (size_t i = 0; i < d->count; i++)
        for (size_t k = 0; k < n && d->when[i] == when; k++)
            s->z[(from + k) * d->count + i] = all[d->step[i] * n + k];
    if (when == READ_BEFORE)
        set_spreads(steps, n, all, s->spread + from);
}

static void respond(Sampler *s) {
    double *all = mem_new(AT_ONCE * s->data->timeline.steps, sizeof *all);
    bool after = false;
    for (size_t i = 0; i < s->data->count; i++)
        after = after || s->data->when[i] == READ_AFTER;
    for (size_t from = 0; from < s->count; from += AT_ONCE) {
        size_t n = s->count - from < AT_ONCE ? s->count - from : AT_ONCE;
        respond_some(s, from, n, READ_BEFORE, all);
        if (after)
            respond_some(s, from, n, READ_AFTER, all);
    }
    free(all);
}

/* ---- weights ---- */

/* Normalised weights; returns the effective sample size. */
static double weigh(Sampler *s) {
    double highest = -INFINITY, sum = 0, squares = 0;
    size_t n = (size_t)s->dimensions;
    for (size_t i = 0; i < s->count; i++) {
        const double *theta = s->theta + i * n;
        s->weight[i] = inner_of(s, i).log_likelihood + log_prior(s, theta) -
                       log_proposal(s, theta);
        highest = fmax(highest, s->weight[i]);
    }
    for (size_t i = 0; i < s->count; i++) {
        s->weight[i] = exp(s->weight[i] - highest);
        sum += s->weight[i];
    }
    for (size_t i = 0; i < s->count; i++) {
        s->weight[i] /= sum;
        squares += s->weight[i] * s->weight[i];
    }
    return 1 / squares;
}

/* Weighted mean and covariance become the next proposal, widened. */
static bool adapt(Sampler *s) {
    size_t n = (size_t)s->dimensions;
    memset(s->mean, 0, sizeof s->mean);
    for (size_t i = 0; i < s->count; i++)
        for (size_t k = 0; k < n; k++)
            s->mean[k] += s->weight[i] * s->theta[i * n + k];
    gsl_matrix_set_zero(s->root);
    for (size_t i = 0; i < s->count; i++)
        for (size_t k = 0; k < n; k++)
            for (size_t m = 0; m < n; m++)
                *gsl_matrix_ptr(s->root, k, m) +=
                    widened * widened * s->weight[i] *
                    (s->theta[i * n + k] - s->mean[k]) *
                    (s->theta[i * n + m] - s->mean[m]);
    for (size_t k = 0; k < n; k++)
        *gsl_matrix_ptr(s->root, k, k) += 1e-6;
    s->adapted = gsl_linalg_cholesky_decomp1(s->root) == 0;
    return s->adapted;
}

/* ---- draws ---- */

/* Scale of one draw: a normal cut at 0. */
static double draw_scale(const Inner *in, double u) {
    double sd = 1 / sqrt(in->lambda);
    double tail = gsl_cdf_ugaussian_Q(-in->mu / sd);
    double scale = in->mu + sd * gsl_cdf_ugaussian_Qinv(u * tail);
    return tail > 0 && isfinite(scale) && scale > 0 ? scale : 1e-9 * sd;
}

static void set_scale(const Sampler *s, size_t at, const Inner *in,
                      double scale, double level, ResponseParams *p) {
    double k1 = scale / s->spread[at];
    *p = s->unit[at];
    p->value[PARAM_K1] = k1;
    if (response_has(p->kind, PARAM_K2))
        p->value[PARAM_K2] *= k1;
    if (response_has(p->kind, PARAM_K3))
        p->value[PARAM_K3] *= k1;
    p->value[PARAM_P0] = level - k1 * in->z;
}

/* Systematic resampling: draw number i is the proposal at which the sum of
 * weights passes (i + u)/n. */
static void resample(const Sampler *s, size_t draws, gsl_rng *rng,
                     Posterior *out) {
    double offset = gsl_rng_uniform(rng), sum = s->weight[0];
    size_t at = 0;
    out->draws.count = draws;
    out->draws.set = mem_new(draws, sizeof *out->draws.set);
    out->sigma = mem_new(draws, sizeof *out->sigma);
    for (size_t i = 0; i < draws; i++) {
        double wanted = ((double)i + offset) / (double)draws, scale;
        Inner in;
        while (sum < wanted && at + 1 < s->count)
            sum += s->weight[++at];
        in = inner_of(s, at);
        out->sigma[i] =
            exp(s->theta[at * (size_t)s->dimensions + (size_t)s->shapes]);
        scale = draw_scale(&in, gsl_rng_uniform_pos(rng));
        set_scale(s, at, &in, scale,
                  in.y + out->sigma[i] / sqrt(in.weights) *
                             gsl_ran_gaussian(rng, 1),
                  &out->draws.set[i]);
    }
}

/* Medians of the shape, then level and scale expected given it. */
static void set_centre(Sampler *s, Posterior *out) {
    size_t n = out->draws.count;
    double *values = mem_new(n, sizeof *values);
    Inner in;
    double sd, at_zero;
    for (int i = 0; i < s->shapes; i++) {
        bool gain = s->which[i] == PARAM_K2 || s->which[i] == PARAM_K3;
        for (size_t k = 0; k < n; k++) {
            const double *v = out->draws.set[k].value;
            values[k] =
                log(gain ? v[s->which[i]] / v[PARAM_K1] : v[s->which[i]]);
        }
        s->theta[i] = draws_quantile(values, n, .5);
    }
    for (size_t k = 0; k < n; k++)
        values[k] = log(out->sigma[k]);
    s->theta[s->shapes] = draws_quantile(values, n, .5);
    set_unit(s, s->theta, &s->unit[0]);
    s->count = 1;
    respond(s);
    in = inner_of(s, 0);
    sd = 1 / sqrt(in.lambda);
    at_zero = -in.mu / sd; /* mean of a normal cut at 0 */
    set_scale(s, 0, &in,
              in.mu + sd * gsl_ran_ugaussian_pdf(at_zero) /
                          fmax(gsl_cdf_ugaussian_Q(at_zero), 1e-300),
              in.y, &out->centre);
    free(values);
}

static void sampler_start(Sampler *s) {
    size_t n;
    for (int i = 0; i < PARAMS; i++)
        if (s->model->spread[i] > 0 && i != PARAM_K1)
            s->which[s->shapes++] = (Param)i;
    for (int i = 0; i < s->shapes; i++)
        s->centre[i] = centre_of(s, i);
    s->constant = constant_of(s);
    s->dimensions = s->shapes + 1;
    n = (size_t)s->dimensions;
    s->theta = mem_new((POSTERIOR_ROUND + 1) * n, sizeof *s->theta);
    s->weight = mem_new(POSTERIOR_ROUND, sizeof *s->weight);
    s->unit = mem_new(POSTERIOR_ROUND + 1, sizeof *s->unit);
    s->z = mem_new(POSTERIOR_ROUND * s->data->count, sizeof *s->z);
    s->spread = mem_new(POSTERIOR_ROUND, sizeof *s->spread);
    s->root = gsl_matrix_alloc(n, n);
    if (!s->root)
        mem_out();
}

static void sampler_free(Sampler *s) {
    free(s->theta);
    free(s->weight);
    free(s->unit);
    free(s->z);
    free(s->spread);
    gsl_matrix_free(s->root);
}

enum {
    ROUNDS = 3,      /* usually */
    ROUNDS_MOST = 7, /* while too few draws are effective */
    GOOD_ESS = 2 * POSTERIOR_LEAST
};

static StatusCode run_rounds(Sampler *s, gsl_rng *rng, Posterior *out,
                             Status *status) {
    for (int round = 0; round < ROUNDS_MOST; round++) {
        /* the first two rounds only look for the place */
        size_t wanted =
            round + 1 < ROUNDS ? POSTERIOR_ROUND / 2 : (size_t)POSTERIOR_ROUND;
        fill_round(s, wanted, rng);
        if (s->count < wanted)
            return status_fail(status, STATUS_DATA,
                               "%s: its spreads leave almost no shape with "
                               "tau1 above %.1f tau2, expected time constants "
                               "further apart",
                               s->model->name, apart);
        respond(s);
        out->ess = weigh(s);
        if (round + 1 >= ROUNDS && out->ess >= GOOD_ESS)
            break;
        if (round + 1 < ROUNDS_MOST && !adapt(s))
            break;
    }
    return STATUS_OK;
}

StatusCode posterior_run(const Model *model, const TestData *data,
                         const PosteriorPrior *prior, size_t draws,
                         unsigned long seed, Posterior *out, Status *status) {
    Sampler s = {.model = model, .data = data, .prior = prior};
    StatusCode code;
    gsl_rng *rng;
    *out = (Posterior){.centre = model->params};
    if (data->count == 0) {
        out->ess = (double)draws;
        return draws_from_spreads(model, draws, seed, &out->draws, status);
    }
    rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, seed);
    sampler_start(&s);
    code = run_rounds(&s, rng, out, status);
    if (code == STATUS_OK) {
        resample(&s, draws, rng, out);
        set_centre(&s, out);
    }
    sampler_free(&s);
    gsl_rng_free(rng);
    return code;
}

void posterior_free(Posterior *p) {
    draws_free(&p->draws);
    free(p->sigma);
    *p = (Posterior){0};
}
