/* trail: see trail.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/trail.h"

#include "base/mem.h"
#include "calibrate/lanes.h"
#include "calibrate/points.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAYS = 64 /* of the log at least, for the SD over it */ };

static const double own_ratio = .25; /* SD of ln of a kind's own ratio */

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

double trail_memory(const Trail *t, double tau3) {
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
        double mean = trail_memory(t, v[PARAM_TAU3]);
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
    double wide = TRAIL_REACH * t->spread[shape];
    return (Span){t->centre[shape] - wide, t->centre[shape] + wide};
}

static bool has_rise(const Trail *t) {
    return t->a.model->params.kind == RESPONSE_DELAYED;
}

static bool has_fatigue(const Trail *t) {
    return t->a.model->params.kind != RESPONSE_ONE_COMPONENT;
}

double trail_ratio(const Trail *t, const double shape[SHAPES]) {
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

/* Days of a part from one on, less what is read on the first of the log; beyond
 * the last one 0. */
INSIDE void read_days(const Trail *t, int k, size_t i, Lane *x) {
    const double *day = t->part[k] + t->tests;
    double some[LANES];
    if (i + LANES <= t->days)
        lane_load(day + i, LANES, x);
    else {
        for (size_t j = 0; j < LANES; j++)
            some[j] = day[i + j < t->days ? i + j : 0];
        lane_load(some, LANES, x);
    }
    *x -= day[0];
}

WIDE static void read_spread(const Trail *t, PartSpread *s) {
    Lane sum[PARTS] = {{0}}, product[PAIRS] = {{0}};
    double n = (double)t->days;
    int pair = 0;
    for (size_t i = 0; i < t->days; i += LANES) {
        Lane x[PARTS];
#pragma GCC unroll 3
        for (int k = 0; k < PARTS; k++) {
            read_days(t, k, i, &x[k]);
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

bool trail_read(Trail *t, const double shape[SHAPES], PartSpread *spread) {
    bool inside = read_parts(t, shape);
    read_spread(t, spread);
    return inside;
}

static void set_share(double ratio, double growth, double share[PARTS]) {
    share[0] = 1;
    share[1] = -ratio * (1 - growth);
    share[2] = -ratio * growth;
}

/* SD over the log of the response that is a sum of parts. */
static double spread_over(const PartSpread *s, const double share[PARTS]) {
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

double trail_share(const PartSpread *s, double ratio, double growth,
                   double share[PARTS]) {
    double spread;
    set_share(ratio, growth, share);
    spread = spread_over(s, share);
    for (int k = 0; k < PARTS; k++)
        share[k] /= spread;
    return spread;
}

/* ---- likelihoods ---- */

double *trail_like(const Trail *t, size_t kind, size_t member) {
    return t->like + (kind * t->members + member) * TRAIL_MOST;
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
                            const PartSpread *s, double ratio, double growth) {
    static const double place[] = {0, -1.7320508075688772, 1.7320508075688772};
    static const double weight[] = {2 / 3., 1 / 6., 1 / 6.};
    double value[3], top = -INFINITY, sum = 0;
    int points = ratio > 0 ? 3 : 1;
    for (int i = 0; i < points; i++) {
        double share[PARTS];
        trail_share(s, ratio * exp(own_ratio * place[i]), growth, share);
        value[i] = marginal_log(marginal, gram, share, NULL);
        top = fmax(top, value[i]);
    }
    for (int i = 0; i < points; i++)
        sum += (points > 1 ? weight[i] : 1) * exp(value[i] - top);
    return top + log(sum);
}

void trail_shape(const Trail *t, size_t at, double shape[SHAPES]) {
    for (int k = 0; k < SHAPES; k++)
        shape[k] = t->theta[k][at];
}

void trail_likes(Trail *t, Marginal *const *marginal, size_t at, double *like,
                 size_t next) {
    double shape[SHAPES], share[PARTS], ratio;
    PartSpread spread;
    bool inside;
    trail_shape(t, at, shape);
    ratio = trail_ratio(t, shape);
    inside = trail_read(t, shape, &spread);
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
                trail_share(&spread, ratio, t->growth[k], share);
                *like = marginal_log(marginal[0], &gram, share, NULL);
            }
        }
    }
}

/* ---- picks ---- */

void trail_pick(Trail *t, const Marginal *marginal, size_t at, size_t kind,
                Picked *p) {
    p->at = at;
    trail_shape(t, at, p->shape);
    trail_read(t, p->shape, &p->spread);
    gram_of(t, marginal, kind, &p->gram);
    memset(p->known, 0, sizeof p->known);
}

void trail_pick_member(const Trail *t, const Marginal *marginal, size_t k,
                       Picked *p) {
    if (p->known[k])
        return;
    p->known[k] = true;
    p->sd[k] = trail_share(&p->spread, trail_ratio(t, p->shape), t->growth[k],
                           p->share[k]);
    marginal_log(marginal, &p->gram, p->share[k], p->cell[k]);
}

double *trail_half_evenly(const Trail *t) {
    double *even = mem_new(t->count, sizeof *even);
    for (size_t i = 0; i < t->count; i++) {
        even[i] = .5 / (double)t->count;
        for (size_t k = 0; k < t->members; k++)
            even[i] += .5 * t->weight[k * TRAIL_MOST + i] / t->mix[k] /
                       (double)t->members;
    }
    return even;
}

size_t trail_walk(const double *weight, size_t count, double wanted, Walk *w) {
    const size_t *order = w->order;
    if (w->at == 0 && w->sum == 0)
        w->sum = weight[order ? order[0] : 0];
    while (w->sum < wanted && w->at + 1 < count) {
        w->at++;
        w->sum += weight[order ? order[w->at] : w->at];
    }
    return order ? order[w->at] : w->at;
}

size_t *trail_by_fatigue(const Trail *t) {
    size_t *order = mem_new(t->count, sizeof *order);
    double *key = mem_new(t->count, sizeof *key);
    for (size_t i = 0; i < t->count; i++)
        key[i] = t->theta[RATIO][i] + .5 * t->theta[TAU2][i];
    gsl_sort_index(order, key, 1, t->count);
    free(key);
    return order;
}

size_t trail_member(const Trail *t, size_t at, double u) {
    double sum = 0;
    size_t k = 0;
    for (; k + 1 < t->members; k++) {
        sum += t->weight[k * TRAIL_MOST + at];
        if (sum > u * t->total[at])
            break;
    }
    return k;
}

void trail_response(const Trail *t, size_t kind, size_t tests,
                    const double share[PARTS], double *x) {
    size_t from = t->from[kind];
    for (size_t i = 0; i < tests; i++) {
        x[i] = 0;
        for (int k = 0; k < PARTS; k++)
            x[i] += share[k] * (t->part[k][from + i] - t->part[k][from]);
    }
}

/* ---- a run ---- */

Trail *trail_new(const PosteriorAsked *asked) {
    Trail *t = mem_new(1, sizeof *t);
    t->a = *asked;
    t->rng = points_rng(asked->seed);
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
        t->theta[k] = mem_new(TRAIL_MOST, sizeof *t->theta[k]);
    t->like = mem_new(t->a.kinds * t->members * TRAIL_MOST, sizeof *t->like);
    t->density = mem_new(t->members * TRAIL_MOST, sizeof *t->density);
    t->weight = mem_new(t->members * TRAIL_MOST, sizeof *t->weight);
    t->model_density = mem_new(TRAIL_MOST, sizeof *t->model_density);
    t->normals = mem_new(TRAIL_MOST, sizeof *t->normals);
    t->share = mem_new(TRAIL_MOST, sizeof *t->share);
    t->total = mem_new(TRAIL_MOST, sizeof *t->total);
    return t;
}

void trail_free(Trail *t) {
    if (!t)
        return;
    for (size_t j = 0; j < t->a.kinds; j++) {
        marginal_free(t->marginal[j]);
        marginal_free(t->plain[j]);
    }
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
