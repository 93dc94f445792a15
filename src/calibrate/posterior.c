/* posterior: see posterior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/posterior.h"

#include "base/mem.h"
#include "calibrate/traces.h"
#include "calibrate/weights.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sf_gamma.h>
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

/* A normal of as many dimensions. */
typedef struct {
    double mean[MOST];
    double root[MOST][MOST]; /* Cholesky factor of the covariance */
    double inverse[MOST];    /* 1/root[i][i] */
    double constant;         /* of the log density */
} Normal;

/* The rounds of a run. */
typedef struct {
    size_t tried;
    bool adapted;
    Normal normal;
} Round;

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
    ResponseParams *unit;  /* [count] with k1 = 1, p0 = 0 */
    double *z;             /* [count * tests] response at each test */
    Weights w;             /* of the proposals */
    Normal normal;         /* of the proposal */
    size_t tried;          /* drawn to find `count` that are allowed */
    bool adapted;
    Traces *traces; /* NULL: the kind is not linear */
} Sampler;

struct Trail {
    Sampler s;
    Round *round;
    size_t rounds, rounds_room;
    double *theta, **z; /* of all rounds: theta as in the sampler, z[test] */
    size_t room;        /* for shapes in them */
    Known known;        /* tests taken in so far */
    Weights w;
};

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
    return sum + log(2) + a * log(scale_of_sigma(s)) - gsl_sf_lngamma(a);
}

static double log_prior(const Sampler *s, const double *theta,
                        double precision) {
    double sum = s->constant;
    for (int i = 0; i < s->shapes; i++) {
        double x = (theta[i] - s->centre[i]) / s->model->spread[s->which[i]];
        sum -= .5 * x * x;
    }
    return sum - 2 * s->prior->sigma_shape * theta[s->shapes] -
           scale_of_sigma(s) * precision;
}

static double log_normal(int n, const Normal *normal, const double *theta) {
    double x[MOST], sum = normal->constant;
    for (int i = 0; i < n; i++) {
        x[i] = theta[i] - normal->mean[i];
        for (int k = 0; k < i; k++)
            x[i] -= normal->root[i][k] * x[k];
        x[i] *= normal->inverse[i];
        sum -= .5 * x[i] * x[i];
    }
    return sum;
}

/* ---- level and scale, in closed form ---- */

static void sums_add(const TestData *d, size_t i, const double *z, Sums *sums) {
    double x = z[i] - z[0], y = d->value[i] - d->value[0];
    sums->z += d->weight[i] * x;
    sums->zz += d->weight[i] * x * x;
    sums->zy += d->weight[i] * x * y;
}

/* Of all tests. */
static Inner inner_at(const Sampler *s, const Known *known, size_t at) {
    const TestData *d = s->data;
    const double *z = s->z + at * d->count;
    Sums sums = {0};
    Inner in;
    for (size_t i = 0; i < d->count; i++)
        sums_add(d, i, z, &sums);
    in = weights_inner(
        known, &sums, s->w.spread[at],
        exp(-2 * s->theta[at * (size_t)s->dimensions + (size_t)s->shapes]),
        s->prior->effect);
    in.z += z[0];
    in.y += d->value[0];
    return in;
}

static Known know(const Sampler *s) {
    Known known = {0};
    for (size_t i = 0; i < s->data->count; i++)
        known_add(s->data, i, &known);
    return known;
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

/* x of a gamma distribution of shape a and scale 1 below which a share u lies.
 * Of whole shapes by Newton's method from Wilson and Hilferty's value (1931,
 * Proc Natl Acad Sci 17:684-688; from memory). */
static double gamma_quantile(double u, double a) {
    double x, z;
    if (a == 1)
        return -log1p(-u);
    z = gsl_cdf_ugaussian_Pinv(u);
    x = 1 - 1 / (9 * a) + z / (3 * sqrt(a));
    x *= a * x * x;
    if (a != floor(a) || a > 12 || fabs(z) > 3.5 || !(x > 0))
        return gsl_cdf_gamma_Pinv(u, a, 1);
    for (int step = 0; step < 8; step++) {
        double term = exp(-x), below = 1 - term, change;
        for (int k = 1; k < (int)a; k++) {
            term *= x / k;
            below -= term;
        }
        change = (below - u) / term;
        x -= change;
        if (fabs(change) < 1e-9 * x)
            break;
    }
    return x;
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
        theta[s->shapes] = .5 * log(b / gamma_quantile(u[s->shapes], a));
        return;
    }
    for (int i = 0; i < n; i++) {
        x[i] = gsl_cdf_ugaussian_Pinv(u[i]);
        theta[i] = s->normal.mean[i];
        for (int k = 0; k <= i; k++)
            theta[i] += s->normal.root[i][k] * x[k];
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
    for (s->tried = 0; s->count < wanted && s->tried < 20 * wanted;
         s->tried++) {
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
        set_spreads(steps, n, all, s->w.spread + from);
}

/* By the table where that will do; the others, few if any, by the kernel. */
static void respond_by_traces(Sampler *s) {
    size_t steps = s->data->timeline.steps;
    double *all = mem_new(steps, sizeof *all);
    for (size_t i = 0; i < s->count; i++) {
        if (traces_read(s->traces, &s->unit[i], s->z + i * s->data->count,
                        &s->w.spread[i]))
            continue;
        respond_some(s, i, 1, READ_BEFORE, all);
        respond_some(s, i, 1, READ_AFTER, all);
    }
    free(all);
}

static void respond_by_kernel(Sampler *s) {
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

static void respond(Sampler *s) {
    if (s->traces)
        respond_by_traces(s);
    else
        respond_by_kernel(s);
}

/* ---- weights ---- */

/* What the likelihood does not tell: of all proposals of a round. */
static void set_priors(Sampler *s) {
    size_t n = (size_t)s->dimensions;
    Weights *w = &s->w;
    w->count = s->count;
    for (size_t i = 0; i < s->count; i++) {
        w->log_sigma[i] = s->theta[i * n + n - 1];
        w->precision[i] = -2 * w->log_sigma[i];
    }
    weights_exp(s->count, w->precision);
    for (size_t i = 0; i < s->count; i++)
        w->prior[i] = log_prior(s, s->theta + i * n, w->precision[i]);
}

/* Density of a round's proposals over the prior's, times `tried`, for some
 * shapes. */
static void density_of(const Round *round, int dimensions, size_t count,
                       const double *theta, const double *prior,
                       double *density) {
    double tried = (double)round->tried;
    for (size_t i = 0; i < count && round->adapted; i++)
        density[i] = log_normal(dimensions, &round->normal,
                                theta + i * (size_t)dimensions) -
                     prior[i];
    if (round->adapted)
        weights_exp(count, density);
    for (size_t i = 0; i < count; i++)
        density[i] = round->adapted
                         ? tried * (from_prior + (1 - from_prior) * density[i])
                         : tried;
}

/* Weights of a round; returns the effective sample size. */
static double weigh(Sampler *s) {
    const TestData *d = s->data;
    Round round = {1, s->adapted, s->normal};
    Known known = know(s);
    set_priors(s);
    for (size_t i = 0; i < s->count; i++) {
        Sums sums = {0};
        for (size_t k = 0; k < d->count; k++)
            sums_add(d, k, s->z + i * d->count, &sums);
        s->w.z[i] = sums.z;
        s->w.zz[i] = sums.zz;
        s->w.zy[i] = sums.zy;
    }
    density_of(&round, s->dimensions, s->count, s->theta, s->w.prior,
               s->w.share);
    return weights_set(&s->w, &known, s->prior->effect);
}

/* Cholesky factor, in place of the lower half; false if there is none. */
static bool take_root(int n, double root[MOST][MOST]) {
    for (int k = 0; k < n; k++)
        for (int i = k; i < n; i++) {
            double sum = root[i][k];
            for (int j = 0; j < k; j++)
                sum -= root[i][j] * root[k][j];
            if (i == k && !(sum > 0))
                return false;
            root[i][k] = i == k ? sqrt(sum) : sum / root[k][k];
        }
    return true;
}

enum { ENOUGH = 50 /* effective shapes, to tell where to look next */ };

/* Weights to a power, from their logarithms; returns their sum. */
static double to_power(size_t count, const double *log_weight, double power,
                       double *weight) {
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        weight[i] = power * log_weight[i];
    weights_exp(count, weight);
    for (size_t i = 0; i < count; i++)
        sum += weight[i];
    return sum;
}

/* Effective sample size of weights to a power. */
static double size_at(size_t count, const double *log_weight, double power,
                      double *weight) {
    double sum = to_power(count, log_weight, power, weight), squares = 0;
    for (size_t i = 0; i < count; i++)
        squares += weight[i] * weight[i];
    return sum * sum / squares;
}

/* When a handful of shapes carry all the weight, their spread says too little
 * of where to look next: then the weights are evened out, to a power at which
 * enough of them count (tempering: Neal 2001, Stat Comput 11:125-139; from
 * memory). */
static void even_out(size_t count, double *weight, double *scratch) {
    double low = 1e-4, high = 1, squares = 0, sum;
    for (size_t i = 0; i < count; i++)
        squares += weight[i] * weight[i];
    if (1 / squares >= ENOUGH)
        return;
    for (size_t i = 0; i < count; i++)
        scratch[i] = weight[i] > 0 ? log(weight[i]) : -INFINITY;
    for (int step = 0; step < 12; step++) {
        double middle = (low + high) / 2;
        if (size_at(count, scratch, middle, weight) >= ENOUGH)
            low = middle;
        else
            high = middle;
    }
    sum = to_power(count, scratch, low, weight);
    for (size_t i = 0; i < count; i++)
        weight[i] /= sum;
}

/* Weighted mean and covariance become the next proposal, widened. The weights
 * and their factors are used up. */
static bool adapt(Sampler *s, const double *theta, Weights *w) {
    size_t count = w->count;
    double *weight = w->weight;
    int n = s->dimensions;
    Normal *normal = &s->normal;
    even_out(count, weight, w->factor);
    *normal = (Normal){.constant = 0};
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < n; k++)
            normal->mean[k] += weight[i] * theta[i * (size_t)n + (size_t)k];
    for (size_t i = 0; i < count; i++) {
        const double *x = theta + i * (size_t)n;
        double size = widened * widened * weight[i];
        for (int k = 0; k < n && size > 0; k++)
            for (int m = 0; m <= k; m++)
                normal->root[k][m] +=
                    size * (x[k] - normal->mean[k]) * (x[m] - normal->mean[m]);
    }
    for (int k = 0; k < n; k++)
        normal->root[k][k] += 1e-6;
    s->adapted = take_root(n, normal->root);
    for (int k = 0; k < n && s->adapted; k++) {
        normal->inverse[k] = 1 / normal->root[k][k];
        normal->constant -= log(normal->root[k][k] * sqrt(2 * M_PI));
    }
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
    double k1 = scale / s->w.spread[at];
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
    double offset = gsl_rng_uniform(rng), sum = s->w.weight[0];
    size_t at = 0;
    Known known = know(s);
    out->draws.count = draws;
    out->draws.set = mem_new(draws, sizeof *out->draws.set);
    out->sigma = mem_new(draws, sizeof *out->sigma);
    for (size_t i = 0; i < draws; i++) {
        double wanted = ((double)i + offset) / (double)draws, scale;
        Inner in;
        while (sum < wanted && at + 1 < s->count)
            sum += s->w.weight[++at];
        in = inner_at(s, &known, at);
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
    Known known = know(s);
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
    in = inner_at(s, &known, 0);
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
    s->unit = mem_new(POSTERIOR_ROUND + 1, sizeof *s->unit);
    s->z = mem_new(POSTERIOR_ROUND * s->data->count, sizeof *s->z);
    weights_room(&s->w, POSTERIOR_ROUND);
    if (response_linear(s->model->params.kind))
        s->traces = traces_build(s->data);
}

static void sampler_free(Sampler *s) {
    free(s->theta);
    free(s->unit);
    free(s->z);
    weights_free(&s->w);
    traces_free(s->traces);
}

/* ---- a run ---- */

enum {
    ROUNDS = 3,      /* usually */
    ROUNDS_MOST = 7, /* while too few draws are effective */
    GOOD_ESS = 2 * POSTERIOR_LEAST
};

static void trail_keep(Trail *t);

/* Keeps the rounds when there is a trail. */
static StatusCode run_rounds(Sampler *s, gsl_rng *rng, Trail *trail,
                             Posterior *out, Status *status) {
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
        if (trail)
            trail_keep(trail);
        if (round + 1 >= ROUNDS && out->ess >= GOOD_ESS)
            break;
        if (round + 1 < ROUNDS_MOST && !adapt(s, s->theta, &s->w))
            break;
    }
    return STATUS_OK;
}

static StatusCode run(Sampler *s, size_t draws, unsigned long seed,
                      Trail *trail, Posterior *out, Status *status) {
    StatusCode code;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, seed);
    sampler_start(s);
    code = run_rounds(s, rng, trail, out, status);
    if (code == STATUS_OK) {
        resample(s, draws, rng, out);
        set_centre(s, out);
    }
    gsl_rng_free(rng);
    return code;
}

StatusCode posterior_run_kept(const Model *model, const TestData *data,
                              const PosteriorPrior *prior, size_t draws,
                              unsigned long seed, Posterior *out, Trail **trail,
                              Status *status) {
    *out = (Posterior){.centre = model->params};
    if (data->count == 0) {
        out->ess = (double)draws;
        return draws_from_spreads(model, draws, seed, &out->draws, status);
    }
    *trail = mem_new(1, sizeof **trail);
    (*trail)->s = (Sampler){.model = model, .data = data, .prior = prior};
    (*trail)->z = mem_new(data->count, sizeof *(*trail)->z);
    return run(&(*trail)->s, draws, seed, *trail, out, status);
}

StatusCode posterior_run(const Model *model, const TestData *data,
                         const PosteriorPrior *prior, size_t draws,
                         unsigned long seed, Posterior *out, Status *status) {
    Sampler s = {.model = model, .data = data, .prior = prior};
    StatusCode code;
    *out = (Posterior){.centre = model->params};
    if (data->count == 0) {
        out->ess = (double)draws;
        return draws_from_spreads(model, draws, seed, &out->draws, status);
    }
    code = run(&s, draws, seed, NULL, out, status);
    sampler_free(&s);
    return code;
}

/* ---- the rounds kept, for posteriors of fewer tests ---- */

static void trail_room(Trail *t, size_t need) {
    size_t room = t->room, tests = t->s.data->count;
    size_t n = (size_t)t->s.dimensions;
    t->theta = mem_grow(t->theta, &room, need, n * sizeof *t->theta);
    for (size_t k = 0; k < tests; k++) {
        room = t->room;
        t->z[k] = mem_grow(t->z[k], &room, need, sizeof *t->z[k]);
    }
    t->room = room;
    weights_room(&t->w, need);
}

/* Adds a round to the density from which all rounds together were drawn, each
 * as often as it was tried (the balance heuristic: Veach, Guibas 1995, Proc
 * SIGGRAPH 419-428; from memory), for shapes from a number on. */
static void trail_share(Trail *t, const Round *round, size_t from) {
    Weights *w = &t->w;
    double *density = w->weight + from; /* to be set anew */
    density_of(round, t->s.dimensions, w->count - from,
               t->theta + from * (size_t)t->s.dimensions, w->prior + from,
               density);
    for (size_t i = from; i < w->count; i++)
        w->share[i] += w->weight[i];
}

/* Sums over the tests, one more of them, of shapes from a number on. */
static void trail_sums(Trail *t, size_t test, size_t from) {
    const TestData *d = t->s.data;
    const double *first = t->z[0], *z = t->z[test];
    double weight = d->weight[test], y = d->value[test] - d->value[0];
    Weights *w = &t->w;
    for (size_t i = from; i < w->count; i++) {
        double x = z[i] - first[i];
        w->z[i] += weight * x;
        w->zz[i] += weight * x * x;
        w->zy[i] += weight * x * y;
    }
}

/* The sampler's round, its priors set. */
static void trail_keep(Trail *t) {
    const Sampler *s = &t->s;
    size_t n = (size_t)s->dimensions, from = t->w.count, tests = s->data->count;
    Weights *w = &t->w;
    size_t bytes = s->count * sizeof(double);
    trail_room(t, from + s->count);
    memcpy(t->theta + from * n, s->theta, n * bytes);
    for (size_t k = 0; k < tests; k++)
        for (size_t i = 0; i < s->count; i++)
            t->z[k][from + i] = s->z[i * tests + k];
    memcpy(w->spread + from, s->w.spread, bytes);
    memcpy(w->log_sigma + from, s->w.log_sigma, bytes);
    memcpy(w->precision + from, s->w.precision, bytes);
    memcpy(w->prior + from, s->w.prior, bytes);
    memset(w->z + from, 0, bytes);
    memset(w->zz + from, 0, bytes);
    memset(w->zy + from, 0, bytes);
    memset(w->share + from, 0, bytes);
    w->count += s->count;
    t->round =
        mem_grow(t->round, &t->rounds_room, t->rounds + 1, sizeof *t->round);
    for (size_t r = 0; r < t->rounds; r++)
        trail_share(t, &t->round[r], from);
    t->round[t->rounds++] = (Round){s->tried, s->adapted, s->normal};
    trail_share(t, &t->round[t->rounds - 1], 0);
    for (size_t k = 0; k < t->known.tests; k++)
        trail_sums(t, k, from);
}

enum { LOOKS_MOST = 4, LOOK = POSTERIOR_ROUND / 2 /* shapes */ };

double trail_take(Trail *t, gsl_rng *rng) {
    Sampler *s = &t->s;
    size_t test = t->known.tests;
    double ess;
    known_add(s->data, test, &t->known);
    trail_sums(t, test, 0);
    ess = weights_set(&t->w, &t->known, s->prior->effect);
    for (int look = 0; look < LOOKS_MOST && ess < POSTERIOR_LEAST; look++) {
        if (!adapt(s, t->theta, &t->w))
            break;
        fill_round(s, LOOK, rng);
        respond(s);
        set_priors(s);
        trail_keep(t);
        ess = weights_set(&t->w, &t->known, s->prior->effect);
    }
    return ess;
}

static Inner trail_inner(const Trail *t, size_t at) {
    const Weights *w = &t->w;
    Sums sums = {w->z[at], w->zz[at], w->zy[at]};
    return weights_inner(&t->known, &sums, w->spread[at], w->precision[at],
                         t->s.prior->effect);
}

void trail_draw(const Trail *t, size_t draws, gsl_rng *rng, double *reading,
                double *sigma) {
    const Weights *w = &t->w;
    size_t next = t->known.tests, at = 0;
    double offset = gsl_rng_uniform(rng), sum = w->weight[0];
    for (size_t i = 0; i < draws; i++) {
        Inner in;
        while (sum < ((double)i + offset) / (double)draws && at + 1 < w->count)
            sum += w->weight[++at];
        in = trail_inner(t, at);
        sigma[i] = exp(w->log_sigma[at]);
        reading[i] = t->s.data->value[0] + in.y +
                     sigma[i] / sqrt(in.weights) * gsl_ran_gaussian(rng, 1) +
                     draw_scale(&in, gsl_rng_uniform_pos(rng)) / w->spread[at] *
                         (t->z[next][at] - t->z[0][at] - in.z);
    }
}

void trail_free(Trail *t) {
    if (!t)
        return;
    for (size_t k = 0; k < t->s.data->count; k++)
        free(t->z[k]);
    free(t->z);
    free(t->theta);
    free(t->round);
    weights_free(&t->w);
    sampler_free(&t->s);
    free(t);
}

void posterior_free(Posterior *p) {
    draws_free(&p->draws);
    free(p->sigma);
    *p = (Posterior){0};
}
