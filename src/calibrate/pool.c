/* pool: see pool.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/pool.h"

#include "base/mem.h"
#include "calibrate/lanes.h"
#include "calibrate/points.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum {
    DIMENSIONS = SHAPE_POOLED + 1, /* of h: a centre, ln of the factor */
    FACTOR = SHAPE_POOLED,
    ROUNDS = 3,
    ROUND = 64, /* draws of h in each */
    DRAWS = ROUNDS * ROUND
};

/* How much of a spread lies between squads: SD .30, .50, .35 of .40, .70, .50;
 * our choice, no source. */
static const double between[SHAPE_POOLED] = {.75, 5. / 7, .7};
static const double factor_spread = .25;
/* Weights of a round are evened out until so many draws count. */
static const double least_effective = 12;
/* A round's normal is wider than what was found by this factor. */
static const double widened = 1.3;
/* Evidence counts in millionths; what is impossible, as e^-10000. */
static const double unit = 1e-6, lowest = -1e4;
static const double shared_evenly = .2;

/* A normal of its own in each dimension of h. */
typedef struct {
    double mean[DIMENSIONS], sd[DIMENSIONS];
} Spot;

/* What one athlete's tests say; places beyond `count` are 0. */
typedef struct {
    size_t count;
    double theta[SHAPE_POOLED][POOL_SHAPES];
    double weight[MEMBERS][POOL_SHAPES]; /* exp(log_ratio), the largest 1 */
    int64_t said[DRAWS * MEMBERS];       /* [unit] ln m_hk */
} Voice;

struct Pool {
    double mean[SHAPE_POOLED], spread[SHAPE_POOLED], within[SHAPE_POOLED];
    Voice **voice;
    size_t voices, room;
    double h[DRAWS][DIMENSIONS];
    ShapeNormal centre[DRAWS];      /* p(theta | h) */
    Spot spot[ROUNDS];              /* from which each round was drawn */
    double log_prior[DRAWS];        /* ln of what each draw stands for */
    int64_t total[DRAWS * MEMBERS]; /* of all voices */
    unsigned long seed;
};

Pool *pool_new(const double mean[SHAPE_POOLED],
               const double spread[SHAPE_POOLED], unsigned long seed) {
    Pool *p = mem_new(1, sizeof *p);
    p->seed = seed;
    for (int d = 0; d < SHAPE_POOLED; d++) {
        double s = spread[d] > 0 ? spread[d] : 0;
        p->mean[d] = mean[d];
        p->spread[d] = s;
        p->within[d] = s * sqrt(1 - between[d] * between[d]);
        p->spot[0].mean[d] = mean[d];
        p->spot[0].sd[d] = s * between[d];
    }
    p->spot[0].sd[FACTOR] = factor_spread;
    return p;
}

void pool_free(Pool *p) {
    for (size_t i = 0; p && i < p->voices; i++)
        free(p->voice[i]);
    if (p)
        free(p->voice);
    free(p);
}

bool pool_hears(size_t place, size_t athletes) {
    return athletes <= POOL_MOST ||
           place * POOL_MOST / athletes != (place + 1) * POOL_MOST / athletes;
}

size_t pool_add(Pool *p, const ShapeSample *s) {
    size_t n = s->count < POOL_SHAPES ? s->count : POOL_SHAPES;
    double most = -INFINITY;
    Voice *v;
    assert(s->count > 0);
    p->voice = mem_grow(p->voice, &p->room, p->voices + 1, sizeof *p->voice);
    v = p->voice[p->voices] = mem_new(1, sizeof *v);
    v->count = n;
    for (size_t i = 0; i < MEMBERS * s->count; i++)
        most = fmax(most, s->log_ratio[i]);
    for (size_t i = 0; i < n; i++) {
        size_t from = i * s->count / n;
        for (int d = 0; d < SHAPE_POOLED; d++)
            v->theta[d][i] = s->theta[d][from];
        for (size_t m = 0; m < MEMBERS; m++)
            v->weight[m][i] = exp(s->log_ratio[m * s->count + from] - most);
    }
    return p->voices++;
}

/* ---- one athlete, one h ---- */

/* p(theta | h) of the shapes, the cut left aside: a prior is 0 beyond it, and
 * so are the shapes that it proposes. */
INSIDE void find_density(const ShapeNormal *c, size_t count, const Voice *v,
                         double density[POOL_SHAPES]) {
    double by[SHAPE_POOLED]; /* 1/SD */
    for (int d = 0; d < SHAPE_POOLED; d++)
        by[d] = c->root[d][d] > 0 ? 1 / c->root[d][d] : 0;
    for (size_t i = 0; i < count; i += LANES) {
        Lane sum = (Lane){0} + c->constant, z;
        for (int d = 0; d < SHAPE_POOLED; d++) {
            lane_load(v->theta[d] + i, LANES, &z);
            z = (z - c->mean[d]) * by[d];
            sum -= .5 * z * z;
        }
        lane_exp(&sum);
        lane_store(&sum, LANES, density + i);
    }
}

/* ln m_hk of every member. */
WIDE static void measure(const ShapeNormal *c, const Voice *v,
                         int64_t said[MEMBERS]) {
    double density[POOL_SHAPES];
    size_t n = (v->count + LANES - 1) / LANES * LANES;
    find_density(c, n, v, density);
    for (int m = 0; m < MEMBERS; m++) {
        Lane sum = {0}, some, weight;
        for (size_t i = 0; i < n; i += LANES) {
            lane_load(density + i, LANES, &some);
            lane_load(v->weight[m] + i, LANES, &weight);
            sum += weight * some;
        }
        said[m] = llround(fmax(log(lane_sum(&sum) / (double)v->count), lowest) /
                          unit);
    }
}

/* ---- draws of h ---- */

/* What draw h says of an athlete. */
static void set_centre(Pool *p, size_t h) {
    double covariance[SHAPE_POOLED][SHAPE_POOLED] = {{0}};
    for (int d = 0; d < SHAPE_POOLED; d++)
        covariance[d][d] = gsl_pow_2(exp(p->h[h][FACTOR]) * p->within[d]);
    shape_normal_set(p->h[h], covariance, &p->centre[h]);
}

/* The next ROUND draws: the same points for all rounds, each shifted by amounts
 * of its own. */
static void draw_round(Pool *p, int round, gsl_rng *rng) {
    Points points = points_new(DIMENSIONS, rng);
    const Spot *spot = &p->spot[round];
    size_t end = (size_t)(round + 1) * ROUND;
    for (size_t h = end - ROUND; h < end; h++) {
        double z[DIMENSIONS];
        points_normal(&points, z);
        for (int d = 0; d < DIMENSIONS; d++)
            p->h[h][d] = spot->mean[d] + spot->sd[d] * z[d];
        set_centre(p, h);
    }
    points_free(&points);
}

/* ln density, but for a constant that all spots share. */
static double spot_log(const Spot *spot, const double h[DIMENSIONS]) {
    double density = 0;
    for (int d = 0; d < DIMENSIONS; d++)
        if (spot->sd[d] > 0) {
            double z = (h[d] - spot->mean[d]) / spot->sd[d];
            density -= z * z / 2 + log(spot->sd[d]);
        }
    return density;
}

/* Weighs the draws of the first rounds by the density of the prior over that
 * from which they were drawn together. The components of a centre are apart as
 * those of an athlete are. */
static void weigh(Pool *p, int rounds) {
    for (size_t h = 0; h < (size_t)rounds * ROUND; h++) {
        double prior = spot_log(&p->spot[0], p->h[h]), sum = 0;
        for (int r = 0; r < rounds; r++)
            sum += exp(spot_log(&p->spot[r], p->h[h]) - prior);
        p->log_prior[h] = p->h[h][0] - p->h[h][1] > SHAPE_APART
                              ? -log(sum * ROUND)
                              : -INFINITY;
    }
}

static void measure_round(Pool *p, int round) {
    for (size_t h = (size_t)round * ROUND; h < (size_t)(round + 1) * ROUND; h++)
        for (size_t i = 0; i < p->voices; i++) {
            measure(&p->centre[h], p->voice[i],
                    &p->voice[i]->said[h * MEMBERS]);
            for (size_t m = h * MEMBERS; m < (h + 1) * MEMBERS; m++)
                p->total[m] += p->voice[i]->said[m];
        }
}

/* ---- what was found ---- */

/* ln of what speaks for member m at draw h, without one of the voices. */
static double evidence(const Pool *p, size_t h, size_t m,
                       const Voice *without) {
    int64_t said = p->total[h * MEMBERS + m];
    if (without)
        said -= without->said[h * MEMBERS + m];
    return p->log_prior[h] + unit * (double)said;
}

/* exp(power (x - largest)), scaled to sum 1; returns 1 / sum of squares. */
static double scale_weights(size_t count, const double *x, double power,
                            double *weight) {
    double most = -INFINITY, sum = 0, squares = 0;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, x[i]);
    for (size_t i = 0; i < count; i++)
        sum += weight[i] = exp(power * (x[i] - most));
    for (size_t i = 0; i < count; i++) {
        weight[i] /= sum;
        squares += weight[i] * weight[i];
    }
    return 1 / squares;
}

static double log_sum(size_t count, const double *x) {
    double most = -INFINITY, sum = 0;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, x[i]);
    for (size_t i = 0; i < count; i++)
        sum += most > -INFINITY ? exp(x[i] - most) : 0;
    return most + log(sum);
}

/* Weights of the first `count` draws, evened out. */
static void even_weights(const Pool *p, size_t count, double *weight) {
    double all[DRAWS], power = 1;
    for (size_t h = 0; h < count; h++) {
        double of[MEMBERS];
        for (size_t m = 0; m < MEMBERS; m++)
            of[m] = evidence(p, h, m, NULL);
        all[h] = log_sum(MEMBERS, of);
    }
    while (scale_weights(count, all, power, weight) < least_effective)
        power *= .8;
}

/* Where the next round is drawn. */
static void find_spot(Pool *p, int round) {
    double weight[DRAWS];
    Spot *spot = &p->spot[round];
    even_weights(p, (size_t)round * ROUND, weight);
    for (int d = 0; d < DIMENSIONS; d++) {
        double sum = 0, squares = 0;
        for (size_t h = 0; h < (size_t)round * ROUND; h++)
            sum += weight[h] * p->h[h][d];
        for (size_t h = 0; h < (size_t)round * ROUND; h++)
            squares += weight[h] * gsl_pow_2(p->h[h][d] - sum);
        spot->mean[d] = sum;
        spot->sd[d] = p->spot[0].sd[d] > 0 ? widened * sqrt(squares) : 0;
    }
}

void pool_settle(Pool *p) {
    gsl_rng *rng = points_rng(p->seed);
    for (int round = 0; round < ROUNDS; round++) {
        if (round > 0)
            find_spot(p, round);
        draw_round(p, round, rng);
        measure_round(p, round);
        weigh(p, round + 1);
    }
    gsl_rng_free(rng);
}

/* ---- priors ---- */

/* The mixture over all draws, by its mean and covariance. */
static void mix(const Pool *p, const double share[DRAWS], ShapeNormal *normal) {
    double mean[SHAPE_POOLED] = {0};
    double covariance[SHAPE_POOLED][SHAPE_POOLED] = {{0}};
    for (size_t h = 0; h < DRAWS; h++)
        for (int d = 0; d < SHAPE_POOLED; d++)
            mean[d] += share[h] * p->h[h][d];
    for (size_t h = 0; h < DRAWS; h++)
        for (int d = 0; d < SHAPE_POOLED; d++) {
            double off = p->h[h][d] - mean[d];
            covariance[d][d] += share[h] * gsl_pow_2(p->centre[h].root[d][d]);
            for (int e = 0; e <= d; e++)
                covariance[d][e] += share[h] * off * (p->h[h][e] - mean[e]);
        }
    for (int d = 0; d < SHAPE_POOLED; d++)
        for (int e = 0; e < d; e++)
            covariance[e][d] = covariance[d][e];
    shape_normal_set(mean, covariance, normal);
}

static void hear_others(const Pool *p, const Voice *own, ShapePrior *prior) {
    for (size_t m = 0; m < MEMBERS; m++) {
        double of[DRAWS], share[DRAWS];
        for (size_t h = 0; h < DRAWS; h++)
            of[h] = evidence(p, h, m, own);
        scale_weights(DRAWS, of, 1, share);
        mix(p, share, &prior->of[m]);
    }
}

static void weigh_members(const Pool *p, double member[MEMBERS]) {
    double of[DRAWS], found[MEMBERS];
    for (size_t m = 0; m < MEMBERS; m++) {
        for (size_t h = 0; h < DRAWS; h++)
            of[h] = evidence(p, h, m, NULL);
        found[m] = log_sum(DRAWS, of);
    }
    scale_weights(MEMBERS, found, 1, member);
    for (int m = 0; m < MEMBERS; m++)
        member[m] = (1 - shared_evenly) * member[m] + shared_evenly / MEMBERS;
}

void pool_prior(const Pool *p, size_t athlete, ShapePrior *prior) {
    const Voice *own = athlete == POOL_STRANGER ? NULL : p->voice[athlete];
    if (p->voices == (own != NULL)) /* nobody else */
        shape_prior_alone(p->mean, p->spread, prior);
    else
        hear_others(p, own, prior);
    weigh_members(p, prior->member);
}
