/* posterior: see posterior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/posterior.h"

#include "base/mem.h"
#include "calibrate/cholesky.h"
#include "calibrate/lanes.h"
#include "calibrate/traces.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ln of what makes a shape; the first three are pooled. */
enum { TAU1, TAU2, RATIO, RISE, TAU3, SHAPES };

_Static_assert((int)RATIO + 1 == (int)SHAPE_POOLED, "the pooled come first");

enum {
    LOOK = 256,  /* shapes of a round that only looks for the place */
    LOOKS = 3,   /* such rounds; of many tests two more */
    MANY = 40,   /* tests */
    ROUND = 768, /* shapes of a round that counts */
    ROUNDS = 14, /* while too few draws are effective */
    GOOD_ESS = 5 * POSTERIOR_LEAST / 2,
    MOST = ROUNDS * ROUND,
    BENT = 2,      /* rounds after which one normal is not enough */
    NORMALS = 16,  /* of a round then */
    VERDICT = 640, /* shapes on which the verdict rests */
    LEARNED = 128, /* draws from which errors are learned */
    DICE = 6,      /* numbers that make the rest of a draw */
    DAYS = 64      /* of the log at least, for the SD over it */
};

static const double reach = 5.5;      /* SDs from the model's values */
static const double from_prior = .16; /* share of a later round */
static const double widened = 1.15;   /* factor on the SD of a later round */
static const double narrowed = .6;    /* the same of each of many normals */
static const double together = .8;    /* that a kind of test goes with all */
static const double own_ratio = .25;  /* SD of ln of a kind's own ratio */

PosteriorPrior posterior_prior(const TestData *data, double typical) {
    PosteriorPrior prior = {1.2 * typical, .6 * typical, .7,
                            typical,       true,         true};
    if (isfinite(data->error)) {
        prior.sigma = data->error;
        prior.sigma_spread = .3;
    }
    return prior;
}

/* Shapes were drawn from the model's prior and from normals, so often to find
 * those that are allowed. */
typedef struct {
    double of_prior, of_normal;
    size_t normals;
    double mean[NORMALS][SHAPES];
    double root[SHAPES][SHAPES]; /* covariance of each = root root^T */
    double constant;
} Round;

struct Trail {
    PosteriorAsked a;
    size_t members;
    double growth[MEMBERS];
    double mean_load; /* [load/d] */
    /* shapes */
    int varied, which[SHAPES];
    double centre[SHAPES], spread[SHAPES]; /* 0: fixed */
    double constant[SHAPES];               /* ln, of the normals */
    ShapePrior alone;
    const ShapePrior *prior; /* that, or a squad's */
    /* responses */
    Traces *traces;
    Moment *moment;
    size_t *from, tests, days; /* where a kind's tests are among the moments */
    double *part[PARTS];
    Marginal **marginal, **plain; /* plain: errors taken as normal */
    double *none; /* [kind] ln likelihood of the plain where nothing moves */
    /* rounds */
    Round round[ROUNDS];
    size_t rounds, count;
    double *theta[SHAPES];
    double *like;    /* [(kind * members + member) * MOST + shape] ln */
    double *density; /* [member * MOST + shape] ln of the prior */
    double *model_density, *normals;        /* [shape] of the rounds' parts */
    double *share;                          /* [shape] density of all rounds */
    double *weight;                         /* [member * MOST + shape] */
    double *total;                          /* [shape] sum of its weights */
    double evidence[MEMBERS], mix[MEMBERS]; /* as of the posterior */
    double explained, ess;                  /* the same */
    double *sample[SHAPE_POOLED], *sample_ratio; /* once asked for */
    gsl_rng *rng;
    double sigma_mean, sigma_sd; /* ln, of trail_predict(); SD 0: none yet */
};

/* ---- the model as shapes ---- */

static double spread_of(const Model *model, Param param) {
    double spread = model->spread[param];
    return spread > 0 ? spread : 0;
}

static void set_shape(Trail *t, int shape, double value, double spread) {
    t->centre[shape] = log(value);
    t->spread[shape] = spread;
    t->constant[shape] = spread > 0 ? -log(spread * sqrt(2 * M_PI)) : 0;
    if (spread > 0)
        t->which[t->varied++] = shape;
}

static double memory_mean(const Trail *t, double tau3) {
    return -t->mean_load / expm1(-1 / tau3);
}

/* ratio of the gains at the mean load, and growth. */
static void set_ratio(Trail *t, const Model *m) {
    const double *v = m->params.value;
    ResponseKind kind = m->params.kind;
    t->members = 1;
    if (kind == RESPONSE_GRADED) {
        set_shape(t, RATIO, v[PARAM_RATIO], spread_of(m, PARAM_RATIO));
        t->growth[0] = v[PARAM_GROWTH];
        t->members = 0;
        for (int k = 0; k < MEMBERS; k++)
            if (fabs(member_growth[k] - v[PARAM_GROWTH]) <=
                spread_of(m, PARAM_GROWTH) + 1e-9)
                t->growth[t->members++] = member_growth[k];
        t->members = t->members > 0 ? t->members : 1;
    } else if (kind == RESPONSE_VARIABLE_DOSE) {
        double mean = memory_mean(t, v[PARAM_TAU3]);
        t->growth[0] = 1;
        set_shape(t, RATIO, v[PARAM_K3] / v[PARAM_K1] * (mean > 0 ? mean : 1),
                  spread_of(m, PARAM_K3));
    } else if (response_has(kind, PARAM_K2))
        set_shape(t, RATIO, v[PARAM_K2] / v[PARAM_K1], spread_of(m, PARAM_K2));
    else
        set_shape(t, RATIO, 1, 0); /* of no use */
}

static void set_shapes(Trail *t) {
    const Model *m = t->a.model;
    ResponseKind kind = m->params.kind;
    static const struct {
        int shape;
        Param param;
        double instead; /* where the kind has none */
    } taus[] = {{TAU1, PARAM_TAU1, 1},
                {TAU2, PARAM_TAU2, 1e-6},
                {RISE, PARAM_TAU_RISE, 1e-6},
                {TAU3, PARAM_TAU3, 1e-6}};
    t->mean_load = traces_mean_load(&t->a.kind->data->timeline);
    for (int i = 0; i < 4; i++) {
        bool has = response_has(kind, taus[i].param);
        set_shape(t, taus[i].shape,
                  has ? m->params.value[taus[i].param] : taus[i].instead,
                  has ? spread_of(m, taus[i].param) : 0);
    }
    set_ratio(t, m);
    shape_prior_alone(t->centre, t->spread, &t->alone);
    t->prior = t->a.squad ? t->a.squad : &t->alone;
}

static bool grows(const Trail *t) {
    return t->growth[t->members - 1] > 0;
}

static Span span_of(const Trail *t, int shape) {
    double wide = reach * t->spread[shape];
    return (Span){t->centre[shape] - wide, t->centre[shape] + wide};
}

static bool has_rise(const Trail *t) {
    return t->a.model->params.kind == RESPONSE_DELAYED;
}

static bool has_fatigue(const Trail *t) {
    return t->a.model->params.kind != RESPONSE_ONE_COMPONENT;
}

static double ratio_of(const Trail *t, const double shape[SHAPES]) {
    return has_fatigue(t) ? exp(shape[RATIO]) : 0;
}

/* ---- responses ---- */

/* Every so-manieth step of the log: not every seventh. */
static void choose_days(Trail *t) {
    size_t steps = t->a.kind->data->timeline.steps, stride = steps / DAYS;
    if (stride < 1)
        stride = 1;
    if (stride % 7 == 0)
        stride--;
    for (size_t i = 0; i < steps; i += stride)
        t->moment[t->tests + t->days++] = (Moment){i, READ_BEFORE};
}

static void choose_moments(Trail *t) {
    t->from = mem_new(t->a.kinds, sizeof *t->from);
    for (size_t j = 0; j < t->a.kinds; j++) {
        t->from[j] = t->tests;
        t->tests += t->a.kind[j].data->count;
    }
    t->moment = mem_new(t->tests + t->a.kind->data->timeline.steps + 1,
                        sizeof *t->moment);
    for (size_t j = 0; j < t->a.kinds; j++)
        for (size_t i = 0; i < t->a.kind[j].data->count; i++)
            t->moment[t->from[j] + i] = (Moment){t->a.kind[j].data->step[i],
                                                 t->a.kind[j].data->when[i]};
    choose_days(t);
}

static Span both(Span a, Span b) {
    return (Span){fmin(a.low, b.low), fmax(a.high, b.high)};
}

static void build_traces(Trail *t) {
    Span none = {1, 0};
    TracesAsked asked = {&t->a.kind->data->timeline, t->moment,
                         t->tests + t->days,         span_of(t, TAU1),
                         span_of(t, TAU2),           none};
    if (has_fatigue(t))
        asked.tau = both(asked.tau, span_of(t, TAU2));
    if (has_rise(t))
        asked.tau = both(asked.tau, span_of(t, RISE));
    if (grows(t))
        asked.tau3 = span_of(t, TAU3);
    t->traces = traces_build(&asked);
    for (int k = 0; k < PARTS; k++)
        t->part[k] = mem_new(traces_room(t->traces), sizeof *t->part[k]);
}

/* Parts of a shape's response at every moment; those a model has not stay 0.
 * False: outside the tables, which no allowed shape is. */
static bool read_parts(Trail *t, const double shape[SHAPES]) {
    bool inside = true;
    if (has_rise(t)) {
        inside = traces_read(t->traces, shape[RISE], t->part[1]);
        inside = traces_read(t->traces, shape[TAU1], t->part[0]) && inside;
        for (size_t i = 0; i < t->tests + t->days; i++)
            t->part[0][i] -= t->part[1][i];
    } else
        inside = traces_read(t->traces, shape[TAU1], t->part[0]);
    if (has_fatigue(t))
        inside = traces_read(t->traces, shape[TAU2], t->part[1]) && inside;
    if (has_fatigue(t) && grows(t))
        inside = traces_read_grown(t->traces, shape[TAU2], shape[TAU3],
                                   t->part[2]) &&
                 inside;
    return inside;
}

/* Covariances of the parts over the log. */
typedef struct {
    double mean[PARTS], product[PAIRS];
} Spread;

/* Days are read from the middle of what is read, and rows are filled up to
 * whole lanes. */
WIDE static void read_spread(const Trail *t, Spread *s) {
    Lane sum[PARTS] = {{0}}, product[PAIRS] = {{0}}, mid[PARTS];
    double n = (double)t->days;
    int pair = 0;
    for (int k = 0; k < PARTS; k++)
        mid[k] = (Lane){0} + t->part[k][t->tests];
    for (size_t i = 0; i < t->days; i += LANES) {
        Lane x[PARTS];
        for (int k = 0; k < PARTS; k++) {
            double some[LANES];
            for (size_t j = 0; j < LANES; j++)
                some[j] = t->part[k][t->tests + (i + j < t->days ? i + j : 0)];
            lane_load(some, LANES, &x[k]);
            x[k] -= mid[k];
            sum[k] += x[k];
        }
        product[0] += x[0] * x[0];
        product[1] += x[1] * x[0];
        product[2] += x[1] * x[1];
        product[3] += x[2] * x[0];
        product[4] += x[2] * x[1];
        product[5] += x[2] * x[2];
    }
    for (int k = 0; k < PARTS; k++) {
        double own = lane_sum(&sum[k]) / n;
        s->mean[k] = own;
        for (int j = 0; j <= k; j++, pair++)
            s->product[pair] = lane_sum(&product[pair]) / n - own * s->mean[j];
    }
    for (int k = 0; k < PARTS; k++)
        s->mean[k] += t->part[k][t->tests];
}

static void set_share(double ratio, double growth, double share[PARTS]) {
    share[0] = 1;
    share[1] = -ratio * (1 - growth);
    share[2] = -ratio * growth;
}

/* SD over the log of the response that is a sum of parts. */
static double spread_over(const Spread *s, const double share[PARTS]) {
    double variance = 0, mean = 0, least;
    int pair = 0;
    for (int k = 0; k < PARTS; k++) {
        mean += fabs(share[k] * s->mean[k]);
        for (int j = 0; j <= k; j++, pair++)
            variance +=
                share[k] * share[j] * (k == j ? 1 : 2) * s->product[pair];
    }
    least = 1e-9 * mean;
    if (least <= 0)
        least = 1e-9;
    return variance > least * least ? sqrt(variance) : least;
}

/* Shares of a response over its SD; returns the SD. */
static double unit_share(const Spread *s, double ratio, double growth,
                         double share[PARTS]) {
    double spread;
    set_share(ratio, growth, share);
    spread = spread_over(s, share);
    for (int k = 0; k < PARTS; k++)
        share[k] /= spread;
    return spread;
}

/* ---- likelihoods ---- */

static double *like_of(const Trail *t, size_t kind, size_t member) {
    return t->like + (kind * t->members + member) * MOST;
}

static void gram_of(const Trail *t, const Marginal *marginal, size_t kind,
                    Gram *gram) {
    const double *part[PARTS];
    for (int k = 0; k < PARTS; k++)
        part[k] = t->part[k] + t->from[kind];
    marginal_gram(marginal, part, gram);
}

/* ln of the likelihood of another kind than the first: over its own ratio. */
static double log_own_ratio(const Marginal *marginal, const Gram *gram,
                            const Spread *s, double ratio, double growth) {
    static const double place[] = {0, -1.7320508075688772, 1.7320508075688772};
    static const double weight[] = {2 / 3., 1 / 6., 1 / 6.};
    double value[3], top = -INFINITY, sum = 0;
    int points = ratio > 0 ? 3 : 1;
    for (int i = 0; i < points; i++) {
        double share[PARTS];
        unit_share(s, ratio * exp(own_ratio * place[i]), growth, share);
        value[i] = marginal_log(marginal, gram, share, NULL);
        top = fmax(top, value[i]);
    }
    for (int i = 0; i < points; i++)
        sum += (points > 1 ? weight[i] : 1) * exp(value[i] - top);
    return top + log(sum);
}

static void shape_at(const Trail *t, size_t at, double shape[SHAPES]) {
    for (int k = 0; k < SHAPES; k++)
        shape[k] = t->theta[k][at];
}

/* ln likelihoods of a shape, of one kind and member `next` behind that of the
 * one before. */
static void set_likes(Trail *t, Marginal *const *marginal, size_t at,
                      double *like, size_t next) {
    double shape[SHAPES], share[PARTS], ratio;
    Spread spread;
    bool inside;
    shape_at(t, at, shape);
    ratio = ratio_of(t, shape);
    inside = read_parts(t, shape);
    read_spread(t, &spread);
    for (size_t j = 0; j < t->a.kinds; j++) {
        Gram gram;
        if (inside)
            gram_of(t, marginal[j], j, &gram);
        for (size_t k = 0; k < t->members; k++, like += next) {
            if (!inside)
                *like = -INFINITY;
            else if (j > 0)
                *like = log_own_ratio(marginal[j], &gram, &spread, ratio,
                                      t->growth[k]);
            else {
                unit_share(&spread, ratio, t->growth[k], share);
                *like = marginal_log(marginal[0], &gram, share, NULL);
            }
        }
    }
}

/* ---- proposals ---- */

static bool allowed(const Trail *t, const double shape[SHAPES]) {
    for (int k = 0; k < t->varied; k++) {
        int at = t->which[k];
        if (!(fabs(shape[at] - t->centre[at]) <= reach * t->spread[at]))
            return false;
    }
    return shape[TAU1] - shape[TAU2] > SHAPE_APART && shape[TAU1] > shape[RISE];
}

/* Standard normal numbers become a shape, of the model's prior or (`mean`) of a
 * normal of the round. */
static void propose(const Trail *t, const Round *round, const double *mean,
                    const double *z, double shape[SHAPES]) {
    memcpy(shape, t->centre, sizeof t->centre);
    for (int k = 0; k < t->varied; k++) {
        int at = t->which[k];
        if (!mean)
            shape[at] += t->spread[at] * z[k];
        else {
            shape[at] = mean[k];
            for (int j = 0; j <= k; j++)
                shape[at] += round->root[k][j] * z[j];
        }
    }
}

/* Points spread evenly over a cube: Sobol's sequence, shifted (Cranley,
 * Patterson 1976, SIAM J Numer Anal 13:904-914; from memory). */
typedef struct {
    unsigned dimensions;
    gsl_qrng *sobol;
    double shift[DICE];
} Points;

static Points points_new(unsigned dimensions, gsl_rng *rng) {
    Points p = {dimensions, gsl_qrng_alloc(gsl_qrng_sobol, dimensions), {0}};
    if (!p.sobol)
        mem_out();
    for (unsigned k = 0; k < dimensions; k++)
        p.shift[k] = gsl_rng_uniform(rng);
    return p;
}

static void points_next(Points *p, double *u) {
    gsl_qrng_get(p->sobol, u);
    for (unsigned k = 0; k < p->dimensions; k++) {
        u[k] += p->shift[k];
        u[k] -= floor(u[k]);
    }
}

static void points_free(Points *p) {
    gsl_qrng_free(p->sobol);
}

/* Shapes until there are `wanted`; returns how many were tried. */
static double fill(Trail *t, const Round *round, bool normal, size_t wanted) {
    Points points = points_new(t->varied > 0 ? (unsigned)t->varied : 1, t->rng);
    double z[SHAPES], shape[SHAPES];
    size_t tried = 0, most = 20 * (wanted - t->count);
    while (t->count < wanted && tried++ < most) {
        points_next(&points, z);
        for (unsigned k = 0; k < points.dimensions; k++)
            z[k] =
                gsl_cdf_ugaussian_Pinv(fmin(fmax(z[k], 0x1p-40), 1 - 0x1p-40));
        propose(t, round, normal ? round->mean[tried % round->normals] : NULL,
                z, shape);
        if (!allowed(t, shape))
            continue;
        for (int k = 0; k < SHAPES; k++)
            t->theta[k][t->count] = shape[k];
        t->count++;
    }
    points_free(&points);
    return (double)tried;
}

static double log_model_density(const Trail *t, size_t i) {
    double sum = 0;
    for (int k = 0; k < t->varied; k++) {
        int at = t->which[k];
        double x = (t->theta[at][i] - t->centre[at]) / t->spread[at];
        sum += t->constant[at] - .5 * x * x;
    }
    return sum;
}

/* Mean density of the normals of a round. */
static double normal_density(const Trail *t, const Round *round, size_t i) {
    double sum = 0;
    for (size_t n = 0; n < round->normals; n++) {
        double z[SHAPES], log_one = round->constant;
        for (int k = 0; k < t->varied; k++) {
            z[k] = t->theta[t->which[k]][i] - round->mean[n][k];
            for (int j = 0; j < k; j++)
                z[k] -= round->root[k][j] * z[j];
            z[k] /= round->root[k][k];
            log_one -= .5 * z[k] * z[k];
        }
        sum += exp(log_one) / (double)round->normals;
    }
    return sum;
}

/* Shapes from a number on are new, and so is the last round. */
static void set_shares(Trail *t, size_t from) {
    double of_prior = 0;
    for (size_t r = 0; r < t->rounds; r++)
        of_prior += t->round[r].of_prior;
    for (size_t i = 0; i < t->count; i++) {
        if (i >= from) {
            t->model_density[i] = exp(log_model_density(t, i));
            t->normals[i] = 0;
        }
        for (size_t r = i < from ? t->rounds - 1 : 0; r < t->rounds; r++)
            if (t->round[r].of_normal > 0)
                t->normals[i] +=
                    t->round[r].of_normal * normal_density(t, &t->round[r], i);
        t->share[i] = of_prior * t->model_density[i] + t->normals[i];
    }
}

/* ln of the densities of the time constants that are not pooled. */
static double log_unpooled(const Trail *t, size_t i) {
    double sum = 0;
    for (int k = SHAPE_POOLED; k < SHAPES; k++)
        if (t->spread[k] > 0) {
            double x = (t->theta[k][i] - t->centre[k]) / t->spread[k];
            sum += t->constant[k] - .5 * x * x;
        }
    return sum;
}

/* ln of the prior of the shapes from a number on, of every member. */
static void set_densities(Trail *t, size_t from) {
    size_t n = t->count - from;
    const double *theta[SHAPE_POOLED] = {t->theta[0] + from, t->theta[1] + from,
                                         t->theta[2] + from};
    double *density = mem_new(n * MEMBERS, sizeof *density);
    shape_prior_log(t->prior, n, theta, density);
    for (size_t i = 0; i < n; i++) {
        double rest = log_unpooled(t, from + i);
        for (size_t k = 0; k < t->members; k++) {
            size_t member = t->members == MEMBERS ? k : 0;
            t->density[k * MOST + from + i] = density[member * n + i] + rest;
        }
    }
    free(density);
}

/* ---- weights ---- */

/* Mean over the prior's shapes of the likelihood of one kind: its logarithm. */
static double log_mean_like(const Trail *t, size_t kind) {
    double top = -INFINITY, sum = 0, all = 0;
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++)
            top = fmax(top, like_of(t, kind, k)[i]);
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++) {
            double prior = exp(t->density[k * MOST + i]) / t->share[i];
            all += prior;
            sum += prior * exp(like_of(t, kind, k)[i] - top);
        }
    return top + log(sum / all);
}

/* ln likelihood of one kind beside others, with what it gives way. */
static double given_way(double like, double mean_like) {
    double top = fmax(like, mean_like);
    return top + log(together * exp(like - top) +
                     (1 - together) * exp(mean_like - top));
}

/* ln likelihood of all kinds together. */
static void set_together(Trail *t, const double *mean_like) {
    memcpy(t->weight, t->like, t->members * MOST * sizeof *t->weight);
    for (size_t j = 1; j < t->a.kinds; j++)
        for (size_t k = 0; k < t->members; k++)
            for (size_t i = 0; i < t->count; i++) {
                t->weight[k * MOST + i] +=
                    given_way(like_of(t, j, k)[i], mean_like[j]);
            }
}

/* Logarithms of weights become weights; returns the logarithm of their sum. */
static double weigh_member(Trail *t, size_t k) {
    double *w = t->weight + k * MOST, top = -INFINITY, sum = 0;
    for (size_t i = 0; i < t->count; i++) {
        w[i] += t->density[k * MOST + i] - log(t->share[i]);
        top = fmax(top, w[i]);
    }
    for (size_t i = 0; i < t->count; i++) {
        w[i] = isfinite(top) ? exp(w[i] - top) : 0;
        sum += w[i];
    }
    for (size_t i = 0; i < t->count && sum > 0; i++)
        w[i] /= sum;
    return sum > 0 ? top + log(sum) : -INFINITY;
}

/* Of each member: by its own evidence, or what the squad says. */
static void weigh_members(Trail *t) {
    double top = -INFINITY, sum = 0;
    for (size_t k = 0; k < t->members; k++)
        top = fmax(top, t->evidence[k]);
    for (size_t k = 0; k < t->members; k++) {
        t->mix[k] = exp(t->evidence[k] - top);
        if (t->a.squad && t->members == MEMBERS)
            t->mix[k] = t->a.squad->member[k];
        sum += t->mix[k];
    }
    for (size_t k = 0; k < t->members; k++)
        t->mix[k] /= sum;
}

static void weigh(Trail *t) {
    double *mean_like = mem_new(t->a.kinds, sizeof *mean_like), squares = 0;
    for (size_t j = 0; j < t->a.kinds; j++)
        mean_like[j] = log_mean_like(t, j);
    set_together(t, mean_like);
    free(mean_like);
    for (size_t k = 0; k < t->members; k++)
        t->evidence[k] = weigh_member(t, k);
    weigh_members(t);
    memset(t->total, 0, t->count * sizeof *t->total);
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++) {
            t->weight[k * MOST + i] *= t->mix[k];
            t->total[i] += t->weight[k * MOST + i];
        }
    for (size_t i = 0; i < t->count; i++)
        squares += t->total[i] * t->total[i];
    t->ess = squares > 0 ? 1 / squares : 0;
}

enum { ENOUGH = 50 /* effective shapes, to tell where to look next */ };

/* When a handful of shapes carry all the weight, their spread says too little
 * of where to look next: then the weights are evened out, to a power at which
 * enough of them count (tempering: Neal 2001, Stat Comput 11:125-139; from
 * memory). */
static void even_out(const Trail *t, double *weight) {
    double low = 0, high = 1, power = 1;
    for (int step = 0; step < 12; step++) {
        double sum = 0, squares = 0;
        for (size_t i = 0; i < t->count; i++) {
            weight[i] = t->total[i] > 0 ? pow(t->total[i], power) : 0;
            sum += weight[i];
            squares += weight[i] * weight[i];
        }
        for (size_t i = 0; i < t->count; i++)
            weight[i] /= sum;
        if (sum * sum >= ENOUGH * squares)
            low = power;
        else
            high = power;
        if (low == 1 || (step > 5 && low == power))
            return;
        power = (low + high) / 2;
    }
}

/* Walks through the shapes by their weights (systematic resampling): draw
 * number i is the shape at which their sum passes (i + u)/n. */
typedef struct {
    double offset, sum;
    size_t at;
    const size_t *order; /* NULL: as they were tried */
} Walk;

static size_t walk_to(const double *weight, size_t count, double wanted,
                      Walk *w) {
    const size_t *order = w->order;
    if (w->at == 0 && w->sum == 0)
        w->sum = weight[order ? order[0] : 0];
    while (w->sum < wanted && w->at + 1 < count) {
        w->at++;
        w->sum += weight[order ? order[w->at] : w->at];
    }
    return order ? order[w->at] : w->at;
}

/* The shapes from those with little fatigue to those with much that stays: a
 * walk in this order takes every so-manieth by what decides which taper is
 * good, so that draws are spread evenly over that. */
static size_t *by_fatigue(const Trail *t) {
    size_t *order = mem_new(t->count, sizeof *order);
    double *key = mem_new(t->count, sizeof *key);
    for (size_t i = 0; i < t->count; i++)
        key[i] = t->theta[RATIO][i] + .5 * t->theta[TAU2][i];
    gsl_sort_index(order, key, 1, t->count);
    free(key);
    return order;
}

/* Mean and covariance of the shapes by their weights. */
static void fit_normal(const Trail *t, const double *weight, Round *round) {
    double *mean = round->mean[0];
    for (int k = 0; k < t->varied; k++)
        for (size_t i = 0; i < t->count; i++)
            mean[k] += weight[i] * t->theta[t->which[k]][i];
    for (int k = 0; k < t->varied; k++)
        for (int j = 0; j <= k; j++)
            for (size_t i = 0; i < t->count; i++)
                round->root[k][j] += weight[i] *
                                     (t->theta[t->which[k]][i] - mean[k]) *
                                     (t->theta[t->which[j]][i] - mean[j]);
}

/* Several narrower normals, about shapes drawn by their weights (West 1993, J R
 * Stat Soc B 55:409-422; from memory): they follow a bend. */
static void place_normals(const Trail *t, const double *weight, Round *round) {
    Walk walk = {.5, 0, 0, NULL};
    round->normals = NORMALS;
    for (size_t n = 0; n < NORMALS; n++) {
        size_t at = walk_to(weight, t->count,
                            ((double)n + walk.offset) / NORMALS, &walk);
        for (int k = 0; k < t->varied; k++)
            round->mean[n][k] = t->theta[t->which[k]][at];
    }
}

/* What the next round draws from. */
static bool adapt(const Trail *t, Round *round) {
    double *weight = mem_new(t->count, sizeof *weight);
    int n = t->varied;
    bool bent = t->rounds >= BENT;
    *round = (Round){.normals = 1, .constant = -.5 * n * log(2 * M_PI)};
    even_out(t, weight);
    fit_normal(t, weight, round);
    if (bent)
        place_normals(t, weight, round);
    free(weight);
    for (int k = 0; k < n; k++)
        for (int j = 0; j <= k; j++)
            round->root[k][j] *= bent ? narrowed * narrowed : widened * widened;
    if (n == 0 || !cholesky_root(n, SHAPES, round->root, 1e-14, 0))
        return false;
    for (int k = 0; k < n; k++)
        round->constant -= log(round->root[k][k]);
    return true;
}

/* ---- draws ---- */

/* One shape that was drawn, with what its members' cells say. */
typedef struct {
    size_t at; /* (size_t)-1: none yet */
    double shape[SHAPES];
    Spread spread;
    Gram gram;
    bool known[MEMBERS];
    double share[MEMBERS][PARTS], sd[MEMBERS], cell[MEMBERS][CELLS];
} Picked;

static void pick_shape(Trail *t, const Marginal *marginal, size_t at,
                       size_t kind, Picked *p) {
    p->at = at;
    shape_at(t, at, p->shape);
    read_parts(t, p->shape);
    read_spread(t, &p->spread);
    gram_of(t, marginal, kind, &p->gram);
    memset(p->known, 0, sizeof p->known);
}

static void pick_member(const Trail *t, const Marginal *marginal, size_t k,
                        Picked *p) {
    if (p->known[k])
        return;
    p->known[k] = true;
    p->sd[k] = unit_share(&p->spread, ratio_of(t, p->shape), t->growth[k],
                          p->share[k]);
    marginal_log(marginal, &p->gram, p->share[k], p->cell[k]);
}

/* Member of a shape, at a share `u` of its weight. */
static size_t member_at(const Trail *t, size_t at, double u) {
    double sum = 0;
    size_t k = 0;
    for (; k + 1 < t->members; k++) {
        sum += t->weight[k * MOST + at];
        if (sum > u * t->total[at])
            break;
    }
    return k;
}

static RestDice dice_of(gsl_rng *rng) {
    RestDice dice;
    dice.cell = gsl_rng_uniform(rng);
    dice.sigma = gsl_rng_uniform(rng);
    dice.b = gsl_rng_uniform(rng);
    dice.level = gsl_rng_uniform(rng);
    dice.trend = gsl_rng_uniform(rng);
    return dice;
}

/* The response of a pick at one kind's tests, less that at the first. */
static void response_of(const Trail *t, size_t kind, size_t tests,
                        const double share[PARTS], double *x) {
    size_t from = t->from[kind];
    for (size_t i = 0; i < tests; i++) {
        x[i] = 0;
        for (int k = 0; k < PARTS; k++)
            x[i] += share[k] * (t->part[k][from + i] - t->part[k][from]);
    }
}

/* What errors the draws leave: where sigma is, and the weights of the readings
 * under Student's t. */
static void learn_kind(Trail *t, size_t kind) {
    const TestGroup *own = &t->a.kind[kind];
    Marginal *marginal = t->marginal[kind];
    size_t n = own->data->count;
    double *x = mem_new(2 * n + 1, sizeof *x), *factor = x + n;
    double mean = 0, square = 0, explained = 0;
    Walk walk = {gsl_rng_uniform(t->rng), 0, 0, NULL};
    Picked p = {.at = (size_t)-1};
    for (int i = 0; i < LEARNED; i++) {
        double m, s, u = gsl_rng_uniform(t->rng);
        RestDice dice = dice_of(t->rng);
        size_t at =
            walk_to(t->total, t->count, (i + walk.offset) / LEARNED, &walk);
        size_t k = member_at(t, at, u);
        Rest rest;
        if (at != p.at)
            pick_shape(t, marginal, at, kind, &p);
        pick_member(t, marginal, k, &p);
        marginal_sigma(marginal, p.cell[k], &m, &s);
        mean += m / LEARNED;
        square += s / LEARNED;
        response_of(t, kind, n, p.share[k], x);
        rest =
            marginal_rest(marginal, &p.gram, p.share[k], x, p.cell[k], &dice);
        explained += rest.b * rest.b /
                     (rest.b * rest.b + rest.sigma * rest.sigma) / LEARNED;
        for (size_t r = 0; r < n; r++) {
            double e = own->data->value[r] - own->data->value[0] - rest.level -
                       rest.trend * marginal_time(marginal, r) - rest.b * x[r];
            e /= rest.sigma;
            factor[r] += 5 / (4 + own->data->weight[r] * e * e) / LEARNED;
        }
    }
    if (own->prior.heavy && n > 3)
        marginal_reweigh(marginal, factor);
    marginal_aim(marginal, mean, sqrt(fmax(0, square - mean * mean)));
    if (kind == 0 || explained > t->explained)
        t->explained = explained;
    free(x);
}

static void learn(Trail *t) {
    for (size_t j = 0; j < t->a.kinds; j++)
        if (t->a.kind[j].data->count > 0)
            learn_kind(t, j);
}

/* Parameters of a shape with k1 = 1. */
static ResponseParams unit_params(const Trail *t, const double shape[SHAPES],
                                  double growth) {
    ResponseParams p = t->a.model->params;
    double *v = p.value, ratio = exp(shape[RATIO]);
    static const Param tau[SHAPES] = {[TAU1] = PARAM_TAU1,
                                      [TAU2] = PARAM_TAU2,
                                      [RATIO] = PARAMS,
                                      [RISE] = PARAM_TAU_RISE,
                                      [TAU3] = PARAM_TAU3};
    for (int k = 0; k < SHAPES; k++)
        if (tau[k] != PARAMS && response_has(p.kind, tau[k]))
            v[tau[k]] = exp(shape[k]);
    v[PARAM_K1] = 1;
    if (p.kind == RESPONSE_GRADED) {
        v[PARAM_RATIO] = ratio;
        v[PARAM_GROWTH] = growth;
    } else if (p.kind == RESPONSE_VARIABLE_DOSE) {
        double mean = memory_mean(t, v[PARAM_TAU3]);
        v[PARAM_K3] = mean > 0 ? ratio / mean : ratio;
    } else if (response_has(p.kind, PARAM_K2))
        v[PARAM_K2] = ratio;
    return p;
}

/* Gains times k1, and a level. */
static void scale_params(const Trail *t, double k1, double level,
                         ResponseParams *p) {
    p->value[PARAM_P0] = level;
    p->value[PARAM_K1] *= k1;
    if (p->kind == RESPONSE_GRADED)
        response_settle(p, t->mean_load);
    else {
        if (response_has(p->kind, PARAM_K2))
            p->value[PARAM_K2] *= k1;
        if (response_has(p->kind, PARAM_K3))
            p->value[PARAM_K3] *= k1;
    }
}

/* Level before training, so that the model reads `reading` at the last test. */
static double level_for(const Trail *t, const double share[PARTS], double b,
                        double reading) {
    size_t last = t->a.kind->data->count - 1;
    for (int k = 0; k < PARTS; k++)
        reading -= b * share[k] * t->part[k][last];
    return reading;
}

/* What the draws sum up to, for the centre. */
typedef struct {
    double *shape[SHAPES];     /* of each draw */
    double growth, b, reading; /* means; at the last test */
} Sums;

/* Of a draw from tests: level, trend, scale and sigma of its own. */
static void draw_from_tests(Trail *t, const Picked *p, size_t k,
                            const RestDice *dice, double *x, Sums *sums,
                            ResponseParams *params, double *sigma) {
    const TestData *d = t->a.kind->data;
    size_t last = d->count - 1;
    Rest rest;
    double reading;
    response_of(t, 0, d->count, p->share[k], x);
    rest = marginal_rest(t->marginal[0], &p->gram, p->share[k], x, p->cell[k],
                         dice);
    reading = d->value[0] + rest.level +
              rest.trend * marginal_time(t->marginal[0], last) +
              rest.b * x[last];
    scale_params(t, rest.b / p->sd[k],
                 level_for(t, p->share[k], rest.b, reading), params);
    sums->b += rest.b;
    sums->reading += reading;
    *sigma = rest.sigma;
}

static double prior_scale(const Trail *t, double u) {
    double effect = t->a.kind->prior.effect;
    return t->a.scale_drawn ? effect * gsl_cdf_ugaussian_Pinv(.5 + .5 * u)
                            : effect * sqrt(2 / M_PI);
}

static void draw_all(Trail *t, Sums *sums, Posterior *out) {
    size_t tests = t->a.kind->data->count;
    double n = (double)out->draws.count;
    double *x = mem_new(tests + 1, sizeof *x);
    size_t *order = by_fatigue(t);
    Walk walk = {gsl_rng_uniform(t->rng), 0, 0, order};
    Points points = points_new(DICE, t->rng);
    Picked p = {.at = (size_t)-1};
    for (size_t i = 0; i < out->draws.count; i++) {
        double u[DICE];
        size_t at =
            walk_to(t->total, t->count, ((double)i + walk.offset) / n, &walk);
        size_t k;
        RestDice dice;
        ResponseParams *params = &out->draws.set[i];
        points_next(&points, u);
        k = member_at(t, at, u[0]);
        dice = (RestDice){u[1], u[2], u[3], u[4], u[5]};
        if (at != p.at)
            pick_shape(t, t->marginal[0], at, 0, &p);
        pick_member(t, t->marginal[0], k, &p);
        *params = unit_params(t, p.shape, t->growth[k]);
        for (int s = 0; s < SHAPES; s++)
            sums->shape[s][i] = p.shape[s];
        sums->growth += t->growth[k];
        if (tests > 0)
            draw_from_tests(t, &p, k, &dice, x, sums, params, &out->sigma[i]);
        else {
            double b = prior_scale(t, dice.b);
            scale_params(t, b / p.sd[k], 0, params);
            out->sigma[i] = t->a.kind->prior.sigma;
            sums->b += b;
        }
    }
    sums->growth /= n;
    sums->b /= n;
    sums->reading /= n;
    points_free(&points);
    free(order);
    free(x);
}

/* Medians of the shape, means of all else. */
static void set_centre(Trail *t, const Sums *sums, Posterior *out) {
    double shape[SHAPES], share[PARTS], sd;
    Spread spread;
    for (int k = 0; k < SHAPES; k++)
        shape[k] = draws_quantile(sums->shape[k], out->draws.count, .5);
    read_parts(t, shape);
    read_spread(t, &spread);
    sd = unit_share(&spread, ratio_of(t, shape), sums->growth, share);
    out->centre = unit_params(t, shape, sums->growth);
    scale_params(t, sums->b / sd,
                 t->a.kind->data->count > 0
                     ? level_for(t, share, sums->b, sums->reading)
                     : 0,
                 &out->centre);
}

static void resample(Trail *t, size_t draws, Posterior *out) {
    Sums sums = {.growth = 0};
    out->draws.count = draws;
    out->draws.set = mem_new(draws, sizeof *out->draws.set);
    out->sigma = mem_new(draws, sizeof *out->sigma);
    for (int k = 0; k < SHAPES; k++)
        sums.shape[k] = mem_new(draws, sizeof *sums.shape[k]);
    draw_all(t, &sums, out);
    set_centre(t, &sums, out);
    for (int k = 0; k < SHAPES; k++)
        free(sums.shape[k]);
}

/* ---- the verdict ---- */

/* Shares of the shapes, half by their weights under the members, which all
 * count alike, half evenly. */
static double *half_evenly(const Trail *t) {
    double *even = mem_new(t->count, sizeof *even);
    for (size_t i = 0; i < t->count; i++) {
        even[i] = .5 / (double)t->count;
        for (size_t k = 0; k < t->members; k++)
            even[i] +=
                .5 * t->weight[k * MOST + i] / t->mix[k] / (double)t->members;
    }
    return even;
}

/* Shapes that are asked, and the prior of each member over the share in which
 * they were chosen, whose sum over all shapes is `all`. */
typedef struct {
    size_t count, at[VERDICT];
    double prior[MEMBERS][VERDICT], all;
    double *like; /* [(kind * members + member) * VERDICT + shape] ln, errors
                     taken as normal */
} Jury;

static void choose_jury(const Trail *t, Jury *jury) {
    double *even = half_evenly(t);
    Walk walk = {.5, 0, 0, NULL};
    jury->count = VERDICT;
    for (size_t i = 0; i < jury->count; i++) {
        size_t at = jury->at[i] =
            walk_to(even, t->count, ((double)i + walk.offset) / VERDICT, &walk);
        for (size_t k = 0; k < t->members; k++)
            jury->prior[k][i] = exp(t->density[k * MOST + at]) / t->share[at] /
                                even[at] / VERDICT;
    }
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++)
            jury->all += exp(t->density[k * MOST + i]) / t->share[i];
    free(even);
}

/* Moves the cells to where sigma is under the shape of most weight. */
static void aim_at_best(Trail *t, const Jury *jury) {
    size_t best = jury->at[0];
    for (size_t i = 1; i < jury->count; i++)
        best = t->total[jury->at[i]] > t->total[best] ? jury->at[i] : best;
    for (size_t j = 0; j < t->a.kinds; j++)
        for (int again = 0; again < 3 && t->a.kind[j].data->count > 0;
             again++) {
            size_t k = member_at(t, best, .5);
            double mean, square;
            Picked p;
            pick_shape(t, t->plain[j], best, j, &p);
            pick_member(t, t->plain[j], k, &p);
            marginal_sigma(t->plain[j], p.cell[k], &mean, &square);
            marginal_aim(t->plain[j], mean,
                         1.6 * sqrt(fmax(0, square - mean * mean)));
        }
}

/* ln of the mean over the prior of the likelihood of some kinds together. */
static double ask(const Trail *t, const Jury *jury, size_t from, size_t to,
                  const double *mean_like) {
    double sum = 0, top = -INFINITY, value[MEMBERS][VERDICT];
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < jury->count; i++) {
            const double *like = jury->like + k * VERDICT + i;
            size_t next = t->members * VERDICT; /* kind */
            value[k][i] = like[from * next];
            for (size_t j = from + 1; j < to; j++)
                value[k][i] += given_way(like[j * next], mean_like[j]);
            top = fmax(top, value[k][i]);
        }
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < jury->count; i++)
            sum += jury->prior[k][i] * exp(value[k][i] - top);
    return top + log(sum / jury->all);
}

/* Those of a shape that was asked before are known. */
static void ask_each(Trail *t, Jury *jury) {
    jury->like = mem_new(t->a.kinds * t->members * VERDICT, sizeof(double));
    for (size_t i = 0; i < jury->count; i++) {
        double *like = jury->like + i;
        if (i == 0 || jury->at[i] != jury->at[i - 1])
            set_likes(t, t->plain, jury->at[i], like, VERDICT);
        else
            for (size_t k = 0; k < t->a.kinds * t->members; k++)
                like[k * VERDICT] = like[k * VERDICT - 1];
    }
}

/* Bayes factors, errors taken as normal: weights that were learned while
 * training moves the readings are no judges of whether it does. */
static void judge(Trail *t, Posterior *out) {
    Jury *jury = mem_new(1, sizeof *jury);
    double *mean_like = mem_new(t->a.kinds, sizeof *mean_like);
    choose_jury(t, jury);
    aim_at_best(t, jury);
    ask_each(t, jury);
    out->bayes = 0;
    for (size_t j = 0; j < t->a.kinds; j++) {
        mean_like[j] = ask(t, jury, j, j + 1, NULL);
        out->kind_bayes[j] = mean_like[j] - t->none[j];
        out->bayes -= t->none[j];
    }
    out->bayes += ask(t, jury, 0, t->a.kinds, mean_like);
    free(mean_like);
    free(jury->like);
    free(jury);
}

/* ---- a run ---- */

static void trail_start(Trail *t) {
    set_shapes(t);
    choose_moments(t);
    build_traces(t);
    t->marginal = mem_new(t->a.kinds, sizeof(Marginal *));
    t->plain = mem_new(t->a.kinds, sizeof(Marginal *));
    t->none = mem_new(t->a.kinds, sizeof *t->none);
    for (size_t j = 0; j < t->a.kinds; j++) {
        t->marginal[j] = marginal_new(t->a.kind[j].data, &t->a.kind[j].prior);
        t->plain[j] = marginal_new(t->a.kind[j].data, &t->a.kind[j].prior);
        t->none[j] = marginal_log_none(t->plain[j]);
    }
    for (int k = 0; k < SHAPES; k++)
        t->theta[k] = mem_new(MOST, sizeof *t->theta[k]);
    t->like = mem_new(t->a.kinds * t->members * MOST, sizeof *t->like);
    t->density = mem_new(t->members * MOST, sizeof *t->density);
    t->weight = mem_new(t->members * MOST, sizeof *t->weight);
    t->model_density = mem_new(MOST, sizeof *t->model_density);
    t->normals = mem_new(MOST, sizeof *t->normals);
    t->share = mem_new(MOST, sizeof *t->share);
    t->total = mem_new(MOST, sizeof *t->total);
}

/* Tries shapes of a round; false when too few are allowed. */
static bool run_round(Trail *t, Round *round, bool adapted, size_t wanted) {
    size_t from = t->count;
    if (adapted)
        round->of_normal = fill(
            t, round, true, from + (size_t)((1 - from_prior) * (double)wanted));
    round->of_prior = fill(t, round, false, from + wanted);
    if (t->count < from + wanted)
        return false;
    t->round[t->rounds++] = *round;
    for (size_t i = from; i < t->count && t->tests > 0; i++)
        set_likes(t, t->marginal, i, t->like + i, MOST);
    set_densities(t, from);
    set_shares(t, from);
    weigh(t);
    return true;
}

static StatusCode none_allowed(const Trail *t, Status *status) {
    return status_fail(status, STATUS_DATA,
                       "%s: its spreads leave almost no shape with "
                       "tau1 above 1.3 tau2, expected time constants "
                       "further apart",
                       t->a.model->name);
}

/* Looks for the place, and learns of the errors; each look begins anew from
 * where the one before has found it, and none of their shapes are kept (Cappe
 * et al. 2004, J Comput Graph Stat 13:907-929; from memory). */
static bool look(Trail *t, Round *round, bool *adapted) {
    int looks = t->tests > MANY ? LOOKS + 2 : t->tests > 0 ? LOOKS : 0;
    for (int i = 0; i < looks; i++) {
        if (!run_round(t, round, *adapted, LOOK))
            return false;
        learn(t);
        *adapted = adapt(t, round);
        t->count = t->rounds = 0;
    }
    return true;
}

/* Rounds until enough draws are effective. */
static StatusCode run_rounds(Trail *t, Status *status) {
    Round round = {.of_prior = 0};
    bool adapted = false;
    if (!look(t, &round, &adapted))
        return none_allowed(t, status);
    do {
        if (!run_round(t, &round, adapted, ROUND))
            return none_allowed(t, status);
        if (t->ess >= GOOD_ESS)
            break;
        adapted = adapt(t, &round);
    } while (adapted && t->rounds < ROUNDS);
    return STATUS_OK;
}

StatusCode trail_run(const PosteriorAsked *asked, Trail **trail,
                     Status *status) {
    Trail *t = *trail = mem_new(1, sizeof *t);
    t->a = *asked;
    t->rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!t->rng)
        mem_out();
    gsl_rng_set(t->rng, asked->seed);
    trail_start(t);
    return run_rounds(t, status);
}

void trail_posterior(Trail *t, size_t draws, Posterior *out) {
    *out = (Posterior){.centre = t->a.model->params, .members = t->members};
    memcpy(out->growth, t->growth, sizeof out->growth);
    out->kind_bayes = mem_new(t->a.kinds, sizeof *out->kind_bayes);
    out->ess = t->ess;
    out->explained = t->explained;
    memcpy(out->weight, t->mix, sizeof out->weight);
    memcpy(out->evidence, t->evidence, sizeof out->evidence);
    if (t->tests > 0)
        judge(t, out);
    if (draws > 0)
        resample(t, draws, out);
}

StatusCode posterior_run(const PosteriorAsked *asked, size_t draws,
                         Posterior *out, Status *status) {
    Trail *t;
    StatusCode code = trail_run(asked, &t, status);
    *out = (Posterior){.centre = asked->model->params};
    if (code == STATUS_OK)
        trail_posterior(t, draws, out);
    trail_free(t);
    return code;
}

void trail_free(Trail *t) {
    if (!t)
        return;
    for (size_t j = 0; j < t->a.kinds; j++)
        marginal_free(t->marginal[j]);
    for (size_t j = 0; j < t->a.kinds; j++)
        marginal_free(t->plain[j]);
    free(t->marginal);
    free(t->plain);
    free(t->none);
    for (int k = 0; k < PARTS; k++)
        free(t->part[k]);
    for (int k = 0; k < SHAPES; k++)
        free(t->theta[k]);
    for (int k = 0; k < SHAPE_POOLED; k++)
        free(t->sample[k]);
    free(t->sample_ratio);
    free(t->like);
    free(t->density);
    free(t->model_density);
    free(t->normals);
    free(t->share);
    free(t->weight);
    free(t->total);
    free(t->moment);
    free(t->from);
    gsl_rng_free(t->rng);
    traces_free(t->traces);
    free(t);
}

void posterior_free(Posterior *p) {
    draws_free(&p->draws);
    free(p->sigma);
    free(p->kind_bayes);
    *p = (Posterior){0};
}

/* ---- for a squad ---- */

ShapeSample trail_sample(Trail *t) {
    ShapeSample s = {.count = POOL_SHAPES};
    double *even = half_evenly(t);
    size_t *order = by_fatigue(t);
    Walk walk = {.5, 0, 0, order};
    for (int k = 0; k < SHAPE_POOLED; k++)
        s.theta[k] = t->sample[k] = mem_new(s.count, sizeof *t->sample[k]);
    s.log_ratio = t->sample_ratio =
        mem_new(s.count * t->members, sizeof *t->sample_ratio);
    for (size_t i = 0; i < s.count; i++) {
        size_t at = walk_to(even, t->count,
                            ((double)i + walk.offset) / (double)s.count, &walk);
        for (int k = 0; k < SHAPE_POOLED; k++)
            t->sample[k][i] = t->theta[k][at];
        for (size_t k = 0; k < t->members; k++)
            t->sample_ratio[k * s.count + i] =
                t->weight[k * MOST + at] > 0
                    ? log(t->weight[k * MOST + at] / t->mix[k] / even[at]) +
                          t->evidence[k] - t->density[k * MOST + at] +
                          log_unpooled(t, at)
                    : -INFINITY;
    }
    free(order);
    free(even);
    return s;
}

/* ---- readings to come ---- */

enum { TRIED = 256 /* shapes, evenly of all */ };

/* Those shapes under the first tests. */
typedef struct {
    TestData data;
    Marginal *marginal;
    size_t at[TRIED], count;
    double weight[TRIED * MEMBERS]; /* [shape * members + member] */
} Early;

static void early_gram(const Trail *t, const Early *e, Gram *gram) {
    const double *part[PARTS];
    for (int k = 0; k < PARTS; k++)
        part[k] = t->part[k];
    marginal_gram(e->marginal, part, gram);
}

/* Weights, not scaled, and where sigma is. */
static void early_weigh(Trail *t, Early *e) {
    double top = -INFINITY, all = 0, mean = 0, square = 0;
    double(*moment)[2] = mem_new(TRIED * MEMBERS, sizeof *moment);
    for (size_t i = 0; i < e->count; i++) {
        Picked p = {.at = e->at[i]};
        shape_at(t, p.at, p.shape);
        read_parts(t, p.shape);
        read_spread(t, &p.spread);
        early_gram(t, e, &p.gram);
        for (size_t k = 0; k < t->members; k++) {
            size_t at = i * t->members + k;
            unit_share(&p.spread, ratio_of(t, p.shape), t->growth[k],
                       p.share[k]);
            e->weight[at] =
                marginal_log(e->marginal, &p.gram, p.share[k], p.cell[k]) +
                t->density[k * MOST + p.at] - log(t->share[p.at]);
            marginal_sigma(e->marginal, p.cell[k], &moment[at][0],
                           &moment[at][1]);
            top = fmax(top, e->weight[at]);
        }
    }
    for (size_t at = 0; at < e->count * t->members; at++) {
        e->weight[at] = exp(e->weight[at] - top);
        all += e->weight[at];
        mean += e->weight[at] * moment[at][0];
        square += e->weight[at] * moment[at][1];
    }
    for (size_t at = 0; at < e->count * t->members; at++)
        e->weight[at] /= all;
    t->sigma_mean = mean / all;
    t->sigma_sd =
        sqrt(fmax(1e-6, square / all - t->sigma_mean * t->sigma_mean));
    free(moment);
}

/* Level, trend, scale of a draw make all of its readings to come. */
static void early_draw(Trail *t, const Early *e, size_t ahead, size_t draws,
                       double *reading, double *sigma) {
    size_t tests = e->data.count, old = (size_t)-1;
    double *x = mem_new(tests + ahead, sizeof *x);
    Walk walk = {gsl_rng_uniform(t->rng), 0, 0, NULL};
    Picked p = {.at = (size_t)-1};
    for (size_t i = 0; i < draws; i++) {
        size_t at = walk_to(e->weight, e->count * t->members,
                            ((double)i + walk.offset) / (double)draws, &walk);
        size_t k = at % t->members;
        RestDice dice = dice_of(t->rng);
        Rest rest;
        if (at / t->members != old) {
            pick_shape(t, t->marginal[0], e->at[at / t->members], 0, &p);
            early_gram(t, e, &p.gram);
        }
        old = at / t->members;
        unit_share(&p.spread, ratio_of(t, p.shape), t->growth[k], p.share[k]);
        marginal_log(e->marginal, &p.gram, p.share[k], p.cell[k]);
        response_of(t, 0, tests + ahead, p.share[k], x);
        rest = marginal_rest(e->marginal, &p.gram, p.share[k], x, p.cell[k],
                             &dice);
        sigma[i] = rest.sigma;
        for (size_t r = 0; r < ahead; r++)
            reading[r * draws + i] =
                e->data.value[0] + rest.level + rest.b * x[tests + r] +
                rest.trend * marginal_time(t->marginal[0], tests + r);
    }
    free(x);
}

void trail_predict(Trail *t, size_t tests, size_t ahead, size_t draws,
                   double *reading, double *sigma) {
    Early *e = mem_new(1, sizeof *e);
    e->data = *t->a.kind->data;
    e->data.count = tests;
    e->marginal = marginal_new(&e->data, &t->a.kind->prior);
    if (t->sigma_sd > 0)
        marginal_aim(e->marginal, t->sigma_mean, 1.3 * t->sigma_sd);
    for (size_t i = 0; i < TRIED && i < t->count; i++)
        e->at[e->count++] = i * t->count / TRIED;
    early_weigh(t, e);
    early_draw(t, e, ahead, draws, reading, sigma);
    marginal_free(e->marginal);
    free(e);
}
