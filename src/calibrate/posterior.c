/* posterior: see posterior.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/posterior.h"

#include "base/mem.h"
#include "calibrate/points.h"
#include "calibrate/rounds.h"
#include "calibrate/trail.h"
#include "calibrate/verdict.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

PosteriorPrior posterior_prior(const TestData *data, double typical) {
    PosteriorPrior prior = {1.2 * typical, .6 * typical, .7,
                            typical,       true,         true};
    if (isfinite(data->error)) {
        prior.sigma = data->error;
        prior.sigma_spread = .3;
    }
    return prior;
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
        double mean = trail_memory(t, v[PARAM_TAU3]);
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
                            const double dice[REST_DICE], double *x, Sums *sums,
                            ResponseParams *params, double *sigma) {
    const TestData *d = t->a.kind->data;
    size_t last = d->count - 1;
    Rest rest;
    double reading;
    trail_response(t, 0, d->count, p->share[k], x);
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
    size_t *order = trail_by_fatigue(t);
    Walk walk = {gsl_rng_uniform(t->rng), 0, 0, order};
    Points points = points_new(TRAIL_DICE, t->rng);
    Picked p = {.at = (size_t)-1};
    for (size_t i = 0; i < out->draws.count; i++) {
        double u[TRAIL_DICE];
        size_t at = trail_walk(t->total, t->count,
                               ((double)i + walk.offset) / n, &walk);
        size_t k;
        ResponseParams *params = &out->draws.set[i];
        points_next(&points, u);
        k = trail_member(t, at, u[0]);
        if (at != p.at)
            trail_pick(t, t->marginal[0], at, 0, &p);
        trail_pick_member(t, t->marginal[0], k, &p);
        *params = unit_params(t, p.shape, t->growth[k]);
        for (int s = 0; s < SHAPES; s++)
            sums->shape[s][i] = p.shape[s];
        sums->growth += t->growth[k];
        if (tests > 0)
            draw_from_tests(t, &p, k, u + 1, x, sums, params, &out->sigma[i]);
        else {
            double b = prior_scale(t, u[1 + REST_B]);
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
    PartSpread spread;
    for (int k = 0; k < SHAPES; k++)
        shape[k] = draws_quantile(sums->shape[k], out->draws.count, .5);
    trail_read(t, shape, &spread);
    sd = trail_share(&spread, trail_ratio(t, shape), sums->growth, share);
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

void posterior_from(Trail *t, size_t draws, Posterior *out) {
    *out = (Posterior){.centre = t->a.model->params, .members = t->members};
    memcpy(out->growth, t->growth, sizeof out->growth);
    out->kind_bayes = mem_new(t->a.kinds, sizeof *out->kind_bayes);
    out->ess = t->ess;
    out->explained = t->explained;
    memcpy(out->weight, t->mix, sizeof out->weight);
    memcpy(out->evidence, t->evidence, sizeof out->evidence);
    if (t->tests > 0)
        out->bayes = verdict_bayes(t, out->kind_bayes);
    if (draws > 0)
        resample(t, draws, out);
}

StatusCode posterior_run(const PosteriorAsked *asked, size_t draws,
                         Posterior *out, Status *status) {
    Trail *t;
    StatusCode code = rounds_run(asked, &t, status);
    *out = (Posterior){.centre = asked->model->params};
    if (code == STATUS_OK)
        posterior_from(t, draws, out);
    trail_free(t);
    return code;
}

void posterior_free(Posterior *p) {
    draws_free(&p->draws);
    free(p->sigma);
    free(p->kind_bayes);
    *p = (Posterior){0};
}
