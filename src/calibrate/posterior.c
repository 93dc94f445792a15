/* posterior: see posterior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/posterior.h"

#include "base/mem.h"
#include "calibrate/lanes.h"
#include "calibrate/normal.h"
#include "calibrate/traces.h"
#include "calibrate/weights.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = PARAM_TAU3 + 2 }; /* dimensions: shape and ln sigma */
_Static_assert((int)MOST <= (int)POINTS_DIMENSIONS, "points of a shape");

static const double apart = 1.3;      /* least tau1/tau2 */
static const double from_prior = .16; /* share of a later round */
static const double widened = 1.3;    /* factor on the SD of a later round */

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

enum {
    ROUNDS = 3,      /* usually */
    ROUNDS_MOST = 7, /* while too few draws are effective */
    GOOD_ESS = 2 * POSTERIOR_LEAST,
    LOOKS_MOST = 4,
    LOOK = POSTERIOR_ROUND / 2,                          /* shapes */
    ROOM = (ROUNDS - 1) * LOOK + POSTERIOR_ROUND + LANES /* usually */
};

/* The rounds of a run: how many were drawn of the prior and of a normal to find
 * those that are allowed. */
typedef struct {
    size_t of_prior, of_normal;
    Normal normal;
} Round;

/* Proposes the shapes of a round, into a part of the trail. */
typedef struct {
    const Model *model;
    const TestData *data;
    const PosteriorPrior *prior;
    int shapes; /* parameters with a spread */
    Param which[PARAMS];
    double centre[PARAMS]; /* of the prior, of ln(parameter) */
    double constant;       /* of its log density */
    int dimensions;        /* shapes + 1 */
    int place[PARAMS];     /* of a parameter among the shapes; -1: fixed */
    double fixed[PARAMS];  /* its logarithm then */
    size_t count;          /* proposals */
    double *theta[MOST];   /* [dimension][count]; these columns, `first` and
                              those of `w` are the trail's */
    bool kept;             /* are rows wanted? */
    double *z;             /* [count * tests] response at each test; one row
                              where none are wanted */
    double *first;         /* [count] at the first test */
    Weights w;             /* of the proposals */
    Round round;           /* they are of */
    bool adapted;          /* is there a normal to propose from? */
    Traces *traces;        /* NULL: the kind is not linear */
    TraceShapes parts;     /* of the proposals' responses */
    int part_place[COMPONENTS_MOST];  /* of their time constants, as `place` */
    double *own[2 * COMPONENTS_MOST]; /* columns of parts that are not theta */
} Sampler;

/* All rounds of a run. */
struct Trail {
    Sampler s;
    Round *round;
    size_t rounds, rounds_room;
    double *theta[MOST], *first, **z; /* [dimension], z[test] if kept */
    size_t room;                      /* for shapes in them */
    Known known; /* tests taken in so far, when not all of them count */
    Weights w;
};

/* ---- densities ---- */

/* Centre of ln(parameter); gains of fatigue count relative to k1. */
static double log_centre(const Sampler *s, Param param) {
    const double *v = s->model->params.value;
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

/* Of proposals whose precision is set. */
WIDE static void set_log_priors(const Sampler *s, Weights *w) {
    double by_sigma = 2 * s->prior->sigma_shape, rate = scale_of_sigma(s);
    for (size_t i = 0; i < w->count; i += LANES) {
        size_t left = w->count - i;
        Lane sum = {0}, x;
        for (int k = 0; k < s->shapes; k++) {
            lane_load(s->theta[k] + i, left, &x);
            x = (x - s->centre[k]) * (1 / s->model->spread[s->which[k]]);
            sum -= x * x;
        }
        sum = s->constant + .5 * sum;
        lane_load(w->log_sigma + i, left, &x);
        sum -= by_sigma * x;
        lane_load(w->precision + i, left, &x);
        sum -= rate * x;
        lane_store(&sum, left, w->prior + i);
    }
}

/* ---- level and scale, in closed form ---- */

static void sums_add(const TestData *d, size_t i, const double *z, Sums *sums) {
    double x = z[i] - z[0], y = d->value[i] - d->value[0];
    sums->z += d->weight[i] * x;
    sums->zz += d->weight[i] * x * x;
    sums->zy += d->weight[i] * x * y;
}

/* Less the first test's. */
static Inner inner_of(const Weights *w, const Known *known, double effect,
                      size_t at) {
    Sums sums = {w->z[at], w->zz[at], w->zy[at]};
    return weights_inner(known, &sums, w->spread[at], w->precision[at], effect);
}

static Known know(const Sampler *s) {
    Known known = {0};
    for (size_t i = 0; i < s->data->count; i++)
        known_add(s->data, i, &known);
    return known;
}

/* ---- proposals ---- */

/* x of a gamma distribution of shape a and scale 1 below which a share u lies,
 * in place of u. Of whole shapes by Newton's method from Wilson and Hilferty's
 * value (1931, Proc Natl Acad Sci 17:684-688; from memory); false in lanes it
 * may not have got right. */
INSIDE void gamma_some(int a, Lane *u, Bits *right) {
    Lane x = *u, term, below, change = {0};
    lane_normal(&x);
    *right = (x > -3.5) & (x < 3.5);
    x = 1 - 1 / (9. * a) + x * (1 / (3 * sqrt(a)));
    x *= a * x * x;
    for (int step = 0; step < 6; step++) {
        term = -x;
        lane_exp(&term);
        below = 1 - term;
        for (int k = 1; k < a; k++) {
            term *= x * (1. / k);
            below -= term;
        }
        change = (below - *u) / term;
        x -= change;
    }
    *right &= (x > 0) & (change < 1e-9 * x) & (change > -1e-9 * x);
    *u = x;
}

WIDE static void gamma_whole(int a, size_t count, double *u) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane some, share;
        Bits right = {0};
        lane_load(u + i, count - i, &some);
        share = some;
        gamma_some(a, &some, &right);
        for (int k = 0; k < LANES; k++)
            if (!right[k])
                some[k] = gsl_cdf_gamma_Pinv(share[k], a, 1);
        lane_store(&some, count - i, u + i);
    }
}

WIDE static void gamma_first(size_t count, double *u) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane some;
        lane_load(u + i, count - i, &some);
        some = 1 - some;
        lane_log(&some);
        some = -some;
        lane_store(&some, count - i, u + i);
    }
}

static void gamma_quantiles(double a, size_t count, double *u) {
    if (a == 1)
        gamma_first(count, u);
    else if (a == floor(a) && a <= 12)
        gamma_whole((int)a, count, u);
    else
        for (size_t i = 0; i < count; i++)
            u[i] = gsl_cdf_gamma_Pinv(u[i], a, 1);
}

WIDE static void scale_logs(size_t count, double scale, double shift, bool logs,
                            double *x) {
    for (size_t i = 0; i < count; i += LANES) {
        Lane some;
        lane_load(x + i, count - i, &some);
        if (logs)
            lane_log(&some);
        some = some * scale + shift;
        lane_store(&some, count - i, x + i);
    }
}

/* Points between 0 and 1 become shapes of the prior. */
static void draw_prior(const Sampler *s, double u[][POINTS_AT_ONCE]) {
    double *sigma = u[s->shapes];
    for (int k = 0; k < s->shapes; k++) {
        normal_quantiles(POINTS_AT_ONCE, u[k]);
        scale_logs(POINTS_AT_ONCE, s->model->spread[s->which[k]], s->centre[k],
                   false, u[k]);
    }
    gamma_quantiles(s->prior->sigma_shape, POINTS_AT_ONCE, sigma);
    scale_logs(POINTS_AT_ONCE, -.5, .5 * log(scale_of_sigma(s)), true, sigma);
}

/* With k1 = 1, p0 = 0; gains of fatigue count relative to k1. */
static void set_unit(const Sampler *s, double *const *theta, size_t at,
                     ResponseParams *unit) {
    *unit = s->model->params;
    for (int i = 0; i < PARAMS; i++)
        if (response_has(unit->kind, (Param)i))
            unit->value[i] =
                exp(s->place[i] < 0 ? s->fixed[i] : theta[s->place[i]][at]);
    unit->value[PARAM_P0] = 0;
    unit->value[PARAM_K1] = 1;
}

static double log_of(const Sampler *s, Param param,
                     double theta[][POINTS_AT_ONCE], int i) {
    return s->place[param] < 0 ? s->fixed[param] : theta[s->place[param]][i];
}

/* Are the time constants apart? */
static bool allowed(const Sampler *s, double theta[][POINTS_AT_ONCE], int i) {
    double tau1 = log_of(s, PARAM_TAU1, theta, i);
    return tau1 < log(1000) &&
           !(tau1 <= log(apart) + log_of(s, PARAM_TAU2, theta, i)) &&
           !(tau1 <= log_of(s, PARAM_TAU_RISE, theta, i));
}

/* Draws proposals from the normal or from the prior until there are `wanted`;
 * returns how many were drawn for that. */
static size_t fill_from(Sampler *s, bool normal, size_t wanted, gsl_rng *rng) {
    double theta[MOST][POINTS_AT_ONCE];
    size_t tried = 0, most = 20 * (wanted - s->count);
    Points points;
    points_start(&points, s->dimensions, rng);
    while (s->count < wanted && tried < most) {
        points_next(&points, theta);
        if (normal)
            normal_draw(&s->round.normal, theta);
        else
            draw_prior(s, theta);
        for (int i = 0; i < POINTS_AT_ONCE && s->count < wanted; i++) {
            tried++;
            if (!allowed(s, theta, i))
                continue;
            for (int k = 0; k < s->dimensions; k++)
                s->theta[k][s->count] = theta[k][i];
            s->count++;
        }
    }
    points_free(&points);
    return tried;
}

/* Once there is a normal, a share of it is of the prior, and what the normal
 * cannot give. */
static void fill_round(Sampler *s, size_t wanted, gsl_rng *rng) {
    Round *round = &s->round;
    round->of_prior = round->of_normal = s->count = 0;
    if (s->adapted)
        round->of_normal = fill_from(
            s, true, (size_t)((1 - from_prior) * (double)wanted), rng);
    round->of_prior = fill_from(s, false, wanted, rng);
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

static double *row_of(const Sampler *s, size_t at) {
    return s->z + (s->kept || !s->traces ? at * s->data->count : 0);
}

/* Response at the tests, and its SD over the log, of some proposals. */
static void respond_some(Sampler *s, size_t from, size_t n, ReadWhen when,
                         double *all) {
    const TestData *d = s->data;
    size_t steps = d->timeline.steps;
    ResponseParams unit[AT_ONCE];
    for (size_t k = 0; k < n; k++)
        set_unit(s, s->theta, from + k, &unit[k]);
    kernel_batch(n, unit, &d->timeline, when, all);
    for (size_t i = 0; i < d->count; i++)
        for (size_t k = 0; k < n && d->when[i] == when; k++)
            row_of(s, from + k)[i] = all[d->step[i] * n + k];
    if (when == READ_BEFORE)
        set_spreads(steps, n, all, s->w.spread + from);
}

static void sum_row(Sampler *s, size_t at) {
    const double *z = row_of(s, at);
    Sums sums = {0};
    for (size_t k = 0; k < s->data->count; k++)
        sums_add(s->data, k, z, &sums);
    s->first[at] = z[0];
    s->w.z[at] = sums.z;
    s->w.zz[at] = sums.zz;
    s->w.zy[at] = sums.zy;
}

/* Gains of fatigue, relative to k1, fall to the response. */
static void set_gains(Sampler *s) {
    int k = s->place[PARAM_K2];
    double *gain = s->own[s->parts.parts - 1];
    if (k < 0)
        return;
    memcpy(gain, s->theta[k], s->count * sizeof *gain);
    weights_exp(s->count, gain);
    for (size_t i = 0; i < s->count; i++)
        gain[i] = -gain[i];
}

/* By the table where that will do; the others, few if any, by the kernel. */
static void respond_by_traces(Sampler *s) {
    TraceSums sums = {s->first, s->w.z, s->w.zz, s->w.zy, s->w.spread};
    double *all = NULL;
    set_gains(s);
    s->parts.count = s->count;
    for (int part = 0; part < s->parts.parts; part++)
        if (s->part_place[part] >= 0)
            s->parts.log_tau[part] = s->theta[s->part_place[part]];
    traces_sums(s->traces, &s->parts, &sums);
    if (s->kept)
        traces_tests(s->traces, &s->parts, s->z);
    for (size_t i = 0; i < s->count; i++) {
        if (!isnan(s->w.spread[i]))
            continue;
        if (!all)
            all = mem_new(s->data->timeline.steps, sizeof *all);
        respond_some(s, i, 1, READ_BEFORE, all);
        respond_some(s, i, 1, READ_AFTER, all);
        sum_row(s, i);
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
    for (size_t i = 0; i < s->count; i++)
        sum_row(s, i);
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
    Weights *w = &s->w;
    w->count = s->count;
    memcpy(w->log_sigma, s->theta[s->shapes], s->count * sizeof(double));
    for (size_t i = 0; i < s->count; i++)
        w->precision[i] = -2 * w->log_sigma[i];
    weights_exp(s->count, w->precision);
    set_log_priors(s, w);
}

/* Density of a round's proposals over the prior's, times how many were drawn,
 * for some shapes. */
static void density_of(const Round *round, size_t count, double *const *theta,
                       const double *prior, double *density) {
    double of_prior = (double)round->of_prior;
    double of_normal = (double)round->of_normal;
    if (round->of_normal > 0) {
        normal_density(&round->normal, count, theta, density);
        for (size_t i = 0; i < count; i++)
            density[i] -= prior[i];
        weights_exp(count, density);
    }
    for (size_t i = 0; i < count; i++)
        density[i] =
            of_prior + (round->of_normal > 0 ? of_normal * density[i] : 0);
}

enum { ENOUGH = 50 /* effective shapes, to tell where to look next */ };

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
        scratch[i] = fmax(weight[i], 1e-300);
    weights_log(count, scratch);
    for (size_t i = 0; i < count; i++)
        scratch[i] = weight[i] > 0 ? scratch[i] : -INFINITY;
    for (int step = 0; step < 6; step++) { /* to a seventh of the power */
        double middle = sqrt(low * high);
        sum = weights_power(count, scratch, middle, weight, &squares);
        if (sum * sum / squares >= ENOUGH)
            low = middle;
        else
            high = middle;
    }
    sum = weights_power(count, scratch, low, weight, &squares);
    for (size_t i = 0; i < count; i++)
        weight[i] /= sum;
}

/* Weighted mean and covariance become the next proposal, widened. The weights
 * and their factors are used up. */
static bool adapt(Sampler *s, double *const *theta, Weights *w) {
    even_out(w->count, w->weight, w->factor);
    s->adapted = normal_fit(s->dimensions, w->count, theta, w->weight, widened,
                            &s->round.normal);
    return s->adapted;
}

/* ---- the rounds, all together ---- */

static void column_room(const Trail *t, size_t need, double **column) {
    size_t room = t->room;
    *column = mem_grow(*column, &room, need, sizeof **column);
}

static void trail_room(Trail *t, size_t need) {
    for (int k = 0; k < t->s.dimensions; k++)
        column_room(t, need, &t->theta[k]);
    column_room(t, need, &t->first);
    for (size_t k = 0; k < t->s.data->count && t->s.kept; k++)
        column_room(t, need, &t->z[k]);
    weights_room(&t->w, need);
    t->room = t->w.room;
}

/* Gives the sampler the columns behind the last round. */
static void trail_open(Trail *t, size_t wanted) {
    Sampler *s = &t->s;
    size_t from = t->w.count;
    trail_room(t, from + wanted > ROOM ? from + wanted : (size_t)ROOM);
    for (int k = 0; k < s->dimensions; k++)
        s->theta[k] = t->theta[k] + from;
    s->first = t->first + from;
    s->w = weights_from(&t->w, from);
}

/* Adds a round to the density from which all rounds together were drawn, each
 * as often as it was tried (the balance heuristic: Veach, Guibas 1995, Proc
 * SIGGRAPH 419-428; from memory), for shapes from a number on. */
static void trail_share(Trail *t, const Round *round, size_t from) {
    Weights *w = &t->w;
    double *density = w->weight + from; /* to be set anew */
    double *theta[MOST];
    for (int k = 0; k < t->s.dimensions; k++)
        theta[k] = t->theta[k] + from;
    density_of(round, w->count - from, theta, w->prior + from, density);
    for (size_t i = from; i < w->count; i++)
        w->share[i] += w->weight[i];
}

/* Sums over the tests, one more of them, of shapes from a number on; of the
 * first, none. */
static void trail_sums(Trail *t, size_t test, size_t from) {
    const TestData *d = t->s.data;
    const double *first = t->z[0], *z = t->z[test];
    double weight = d->weight[test], y = d->value[test] - d->value[0];
    Weights *w = &t->w;
    for (size_t i = from; i < w->count; i++) {
        double x = z[i] - first[i];
        w->z[i] = (test > 0 ? w->z[i] : 0) + weight * x;
        w->zz[i] = (test > 0 ? w->zz[i] : 0) + weight * x * x;
        w->zy[i] = (test > 0 ? w->zy[i] : 0) + weight * x * y;
    }
}

/* Takes in the sampler's round, its priors set. */
static void trail_close(Trail *t) {
    const Sampler *s = &t->s;
    size_t from = t->w.count, tests = s->data->count;
    for (size_t k = 0; k < tests && s->kept; k++)
        for (size_t i = 0; i < s->count; i++)
            t->z[k][from + i] = s->z[i * tests + k];
    memset(t->w.share + from, 0, s->count * sizeof(double));
    t->w.count += s->count;
    t->round =
        mem_grow(t->round, &t->rounds_room, t->rounds + 1, sizeof *t->round);
    for (size_t r = 0; r < t->rounds; r++)
        trail_share(t, &t->round[r], from);
    t->round[t->rounds++] = s->round;
    trail_share(t, &t->round[t->rounds - 1], 0);
    for (size_t k = 0; k < t->known.tests; k++)
        trail_sums(t, k, from);
}

/* ---- draws ---- */

/* Shapes drawn by their weights, and the numbers of a draw given its shape. */
typedef struct {
    size_t count;
    size_t *at;
    Inner *in;
    double *sigma, *scale, *level; /* level about its mean */
    double *mu, *sd;
} Picks;

/* Systematic resampling: draw number i is the proposal at which the sum of
 * weights passes (i + u)/n. */
static void pick(const Weights *w, const Known *known, double effect,
                 gsl_rng *rng, Picks *p) {
    double offset = gsl_rng_uniform(rng), sum = w->weight[0];
    size_t at = 0;
    for (size_t i = 0; i < p->count; i++) {
        double wanted = ((double)i + offset) / (double)p->count;
        while (sum < wanted && at + 1 < w->count)
            sum += w->weight[++at];
        p->at[i] = at;
        p->in[i] = i > 0 && p->at[i - 1] == at ? p->in[i - 1]
                                               : inner_of(w, known, effect, at);
        p->mu[i] = p->in[i].mu;
        p->sd[i] = 1 / sqrt(p->in[i].lambda);
        p->sigma[i] = w->log_sigma[at];
        p->scale[i] = fmin(gsl_rng_uniform_pos(rng), 1 - 0x1p-36);
        p->level[i] = fmin(fmax(gsl_rng_uniform(rng), 0x1p-36), 1 - 0x1p-36);
    }
    weights_exp(p->count, p->sigma);
    normal_cut(p->count, p->mu, p->sd, p->scale);
    normal_quantiles(p->count, p->level);
    for (size_t i = 0; i < p->count; i++)
        p->level[i] *= p->sigma[i] / sqrt(known->w);
}

static void picks_start(size_t count, Picks *p) {
    p->count = count;
    p->at = mem_new(count, sizeof *p->at);
    p->in = mem_new(count, sizeof *p->in);
    p->sigma = mem_new(5 * count, sizeof *p->sigma);
    p->scale = p->sigma + count;
    p->level = p->scale + count;
    p->mu = p->level + count;
    p->sd = p->mu + count;
}

static void picks_free(Picks *p) {
    free(p->at);
    free(p->in);
    free(p->sigma);
}

/* The unit shape of a number becomes one of this scale and level. */
static void set_scale(const Trail *t, size_t at, double z, double scale,
                      double level, ResponseParams *p) {
    double k1 = scale / t->w.spread[at];
    p->value[PARAM_K1] = k1;
    if (response_has(p->kind, PARAM_K2))
        p->value[PARAM_K2] *= k1;
    if (response_has(p->kind, PARAM_K3))
        p->value[PARAM_K3] *= k1;
    p->value[PARAM_P0] = level - k1 * z;
}

static void resample(const Trail *t, size_t draws, gsl_rng *rng, Picks *p,
                     Posterior *out) {
    const Sampler *s = &t->s;
    Known known = know(s);
    ResponseParams unit = s->model->params;
    picks_start(draws, p);
    pick(&t->w, &known, s->prior->effect, rng, p);
    out->draws.count = draws;
    out->draws.set = mem_new(draws, sizeof *out->draws.set);
    out->sigma = mem_new(draws, sizeof *out->sigma);
    memcpy(out->sigma, p->sigma, draws * sizeof *out->sigma);
    for (size_t i = 0; i < draws; i++) {
        if (i == 0 || p->at[i] != p->at[i - 1])
            set_unit(s, t->theta, p->at[i], &unit);
        out->draws.set[i] = unit;
        set_scale(t, p->at[i], p->in[i].z + t->first[p->at[i]], p->scale[i],
                  p->in[i].y + s->data->value[0] + p->level[i],
                  &out->draws.set[i]);
    }
}

/* Medians of the shape, then level and scale expected given it. */
static void set_centre(Trail *t, const Picks *p, Posterior *out) {
    Sampler *s = &t->s;
    double *values = mem_new(p->count, sizeof *values);
    Known known = know(s);
    Inner in;
    double sd, at_zero;
    trail_open(t, 1);
    for (int k = 0; k < s->dimensions; k++) {
        for (size_t i = 0; i < p->count; i++)
            values[i] = t->theta[k][p->at[i]];
        s->theta[k][0] = draws_quantile(values, p->count, .5);
    }
    s->count = 1;
    respond(s);
    set_priors(s);
    in = inner_of(&s->w, &known, s->prior->effect, 0);
    sd = 1 / sqrt(in.lambda);
    at_zero = -in.mu / sd; /* mean of a normal cut at 0 */
    set_unit(s, t->theta, t->w.count, &out->centre);
    set_scale(t, t->w.count, in.z + s->first[0],
              in.mu + sd * gsl_ran_ugaussian_pdf(at_zero) /
                          fmax(gsl_cdf_ugaussian_Q(at_zero), 1e-300),
              in.y + s->data->value[0], &out->centre);
    free(values);
}

/* A column of one number. */
static const double *column_of(double value, double **own) {
    *own = mem_new(POSTERIOR_ROUND, sizeof **own);
    for (size_t i = 0; i < POSTERIOR_ROUND; i++)
        (*own)[i] = value;
    return *own;
}

/* In the order of the parts' own columns: gains first. */
static void add_part(Sampler *s, Param tau, double gain) {
    int part = s->parts.parts++, k = s->place[tau];
    s->parts.gain[part] = column_of(gain, &s->own[part]);
    s->part_place[part] = k;
    if (k < 0)
        s->parts.log_tau[part] =
            column_of(s->fixed[tau], &s->own[COMPONENTS_MOST + part]);
}

static void traces_start(Sampler *s) {
    ResponseKind kind = s->model->params.kind;
    s->traces = traces_build(s->data);
    add_part(s, PARAM_TAU1, 1);
    if (kind == RESPONSE_DELAYED)
        add_part(s, PARAM_TAU_RISE, -1);
    if (response_has(kind, PARAM_K2))
        add_part(s, PARAM_TAU2, -exp(s->fixed[PARAM_K2]));
}

static void sampler_start(Sampler *s) {
    bool linear = response_linear(s->model->params.kind);
    for (int i = 0; i < PARAMS; i++) {
        bool varies = s->model->spread[i] > 0 && i != PARAM_K1;
        s->place[i] = varies ? s->shapes : -1;
        s->fixed[i] = log_centre(s, (Param)i);
        if (varies) {
            s->centre[s->shapes] = s->fixed[i];
            s->which[s->shapes++] = (Param)i;
        }
    }
    s->constant = constant_of(s);
    s->dimensions = s->shapes + 1;
    s->z = mem_new((s->kept || !linear ? POSTERIOR_ROUND : 1) * s->data->count,
                   sizeof *s->z);
    if (linear)
        traces_start(s);
}

static void sampler_free(Sampler *s) {
    for (int k = 0; k < 2 * COMPONENTS_MOST; k++)
        free(s->own[k]);
    free(s->z);
    traces_free(s->traces);
}

/* ---- a run ---- */

/* Tries shapes of a round; false when too few are allowed. */
static bool run_round(Trail *t, size_t wanted, gsl_rng *rng) {
    trail_open(t, wanted);
    fill_round(&t->s, wanted, rng);
    if (t->s.count < wanted)
        return false;
    respond(&t->s);
    set_priors(&t->s);
    trail_close(t);
    return true;
}

static StatusCode run_rounds(Trail *t, gsl_rng *rng, Posterior *out,
                             Status *status) {
    Sampler *s = &t->s;
    Known known = know(s);
    for (int round = 0; round < ROUNDS_MOST; round++) {
        /* the first two rounds only look for the place */
        if (!run_round(t, round + 1 < ROUNDS ? LOOK : POSTERIOR_ROUND, rng))
            return status_fail(status, STATUS_DATA,
                               "%s: its spreads leave almost no shape with "
                               "tau1 above %.1f tau2, expected time constants "
                               "further apart",
                               s->model->name, apart);
        out->ess = weights_set(&t->w, &known, s->prior->effect);
        if (round + 1 >= ROUNDS && out->ess >= GOOD_ESS)
            break;
        if (round + 1 < ROUNDS_MOST && !adapt(s, t->theta, &t->w))
            break;
    }
    return STATUS_OK;
}

static StatusCode run(Trail *t, size_t draws, unsigned long seed,
                      Posterior *out, Status *status) {
    StatusCode code;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, seed);
    sampler_start(&t->s);
    code = run_rounds(t, rng, out, status);
    if (code == STATUS_OK) {
        Picks picks;
        resample(t, draws, rng, &picks, out);
        set_centre(t, &picks, out);
        picks_free(&picks);
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
    (*trail)->s =
        (Sampler){.model = model, .data = data, .prior = prior, .kept = true};
    (*trail)->z = mem_new(data->count, sizeof *(*trail)->z);
    return run(*trail, draws, seed, out, status);
}

StatusCode posterior_run(const Model *model, const TestData *data,
                         const PosteriorPrior *prior, size_t draws,
                         unsigned long seed, Posterior *out, Status *status) {
    Trail *t;
    StatusCode code;
    *out = (Posterior){.centre = model->params};
    if (data->count == 0) {
        out->ess = (double)draws;
        return draws_from_spreads(model, draws, seed, &out->draws, status);
    }
    t = mem_new(1, sizeof *t);
    t->s = (Sampler){.model = model, .data = data, .prior = prior};
    code = run(t, draws, seed, out, status);
    trail_free(t);
    return code;
}

/* ---- posteriors of fewer tests ---- */

double trail_take(Trail *t, gsl_rng *rng) {
    Sampler *s = &t->s;
    size_t test = t->known.tests;
    double ess;
    known_add(s->data, test, &t->known);
    trail_sums(t, test, 0);
    ess = weights_set(&t->w, &t->known, s->prior->effect);
    for (int look = 0; look < LOOKS_MOST && ess < POSTERIOR_LEAST; look++) {
        if (!adapt(s, t->theta, &t->w) || !run_round(t, LOOK, rng))
            break;
        ess = weights_set(&t->w, &t->known, s->prior->effect);
    }
    return ess;
}

void trail_draw(const Trail *t, size_t draws, gsl_rng *rng, double *reading,
                double *sigma) {
    const Weights *w = &t->w;
    const double *first = t->z[0], *next = t->z[t->known.tests];
    Picks p;
    picks_start(draws, &p);
    pick(w, &t->known, t->s.prior->effect, rng, &p);
    for (size_t i = 0; i < draws; i++) {
        size_t at = p.at[i];
        sigma[i] = p.sigma[i];
        reading[i] =
            t->s.data->value[0] + p.in[i].y + p.level[i] +
            p.scale[i] / w->spread[at] * (next[at] - first[at] - p.in[i].z);
    }
    picks_free(&p);
}

void trail_free(Trail *t) {
    if (!t)
        return;
    for (size_t k = 0; k < t->s.data->count && t->z; k++)
        free(t->z[k]);
    free(t->z);
    for (int k = 0; k < t->s.dimensions; k++)
        free(t->theta[k]);
    free(t->first);
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
