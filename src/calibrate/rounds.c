/* rounds: see rounds.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/rounds.h"

#include "base/mem.h"
#include "calibrate/cholesky.h"
#include "calibrate/lanes.h"
#include "calibrate/points.h"
#include "calibrate/trail.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    LOOK = 256, /* shapes of a round that only looks for the place */
    LOOKS = 3,  /* such rounds; of many tests two more */
    MANY = 40,  /* tests */
    GOOD_ESS = 5 * POSTERIOR_LEAST / 2,
    BENT = 2,      /* rounds after which one normal is not enough */
    LEARNED = 128, /* draws from which errors are learned */
    ENOUGH = 50    /* effective shapes, to tell where to look next */
};

static const double from_prior = .16; /* share of a later round */
static const double widened = 1.15;   /* factor on the SD of a later round */
static const double narrowed = .6;    /* the same of each of many normals */
static const double together = .8;    /* that a kind of test goes with all */

/* ---- proposals ---- */

static bool allowed(const Trail *t, const double shape[SHAPES]) {
    for (int k = 0; k < t->varied; k++) {
        int at = t->which[k];
        if (!(fabs(shape[at] - t->centre[at]) <= TRAIL_REACH * t->spread[at]))
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

/* Shapes until there are `wanted`; returns how many were tried. */
static double fill(Trail *t, const Round *round, bool normal, size_t wanted) {
    Points points = points_new(t->varied > 0 ? (unsigned)t->varied : 1, t->rng);
    double z[SHAPES], shape[SHAPES];
    size_t tried = 0, most = 20 * (wanted - t->count);
    while (t->count < wanted && tried++ < most) {
        points_normal(&points, z);
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

_Static_assert((int)LOOK % (int)LANES == 0 &&
                   (int)TRAIL_ROUND % (int)LANES == 0,
               "no lane lies in two rounds");

/* Density of the normals of a round, times how often they were drawn from, to
 * that of the shapes from a number on. */
WIDE static void add_normals(Trail *t, const Round *round, size_t from) {
    double share = round->of_normal / (double)round->normals;
    for (size_t i = from; i < t->count; i += LANES) {
        Lane all = {0};
        for (size_t n = 0; n < round->normals; n++) {
            Lane z[SHAPES], log_one = (Lane){0} + round->constant;
            for (int k = 0; k < t->varied; k++) {
                lane_load(t->theta[t->which[k]] + i, LANES, &z[k]);
                z[k] -= round->mean[n][k];
                for (int j = 0; j < k; j++)
                    z[k] -= round->root[k][j] * z[j];
                z[k] /= round->root[k][k];
                log_one -= .5 * z[k] * z[k];
            }
            lane_exp(&log_one);
            all += share * log_one;
        }
        for (int lane = 0; lane < LANES; lane++)
            t->normals[i + (size_t)lane] += all[lane];
    }
}

/* Shapes from a number on are new, and so is the last round. */
static void set_shares(Trail *t, size_t from) {
    double of_prior = 0;
    memset(t->normals + from, 0, (t->count - from) * sizeof *t->normals);
    for (size_t r = 0; r < t->rounds; r++) {
        of_prior += t->round[r].of_prior;
        if (t->round[r].of_normal > 0)
            add_normals(t, &t->round[r], r + 1 < t->rounds ? from : 0);
    }
    for (size_t i = 0; i < t->count; i++) {
        if (i >= from)
            t->model_density[i] = exp(log_model_density(t, i));
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
            t->density[k * TRAIL_MOST + from + i] =
                density[member * n + i] + rest;
        }
    }
    free(density);
}

/* ---- weights ---- */

double rounds_log_mean_like(const Trail *t, size_t kind) {
    double top = -INFINITY, sum = 0, all = 0;
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++)
            top = fmax(top, trail_like(t, kind, k)[i]);
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++) {
            double prior = exp(t->density[k * TRAIL_MOST + i]) / t->share[i];
            all += prior;
            sum += prior * exp(trail_like(t, kind, k)[i] - top);
        }
    return top + log(sum / all);
}

double rounds_log_mean(const Trail *t) {
    double top = -INFINITY, sum = 0, all = 0;
    for (size_t k = 0; k < t->members; k++)
        top = fmax(top, t->evidence[k]);
    for (size_t k = 0; k < t->members; k++) {
        sum += exp(t->evidence[k] - top);
        for (size_t i = 0; i < t->count; i++)
            all += exp(t->density[k * TRAIL_MOST + i]) / t->share[i];
    }
    return top + log(sum / all);
}

double rounds_given_way(double like, double mean_like) {
    double top = fmax(like, mean_like);
    return top + log(together * exp(like - top) +
                     (1 - together) * exp(mean_like - top));
}

/* ln likelihood of all kinds together; the first never gives way. */
static void set_together(Trail *t, const double *mean_like) {
    memcpy(t->weight, t->like, t->members * TRAIL_MOST * sizeof *t->weight);
    for (size_t j = 1; j < t->a.kinds; j++)
        for (size_t k = 0; k < t->members; k++)
            for (size_t i = 0; i < t->count; i++) {
                t->weight[k * TRAIL_MOST + i] +=
                    rounds_given_way(trail_like(t, j, k)[i], mean_like[j]);
            }
}

/* Logarithms of weights become weights; returns the logarithm of their sum. */
static double weigh_member(Trail *t, size_t k) {
    double *w = t->weight + k * TRAIL_MOST, top = -INFINITY, sum = 0;
    for (size_t i = 0; i < t->count; i++) {
        w[i] += t->density[k * TRAIL_MOST + i];
        top = fmax(top, w[i]);
    }
    for (size_t i = 0; i < t->count; i++) {
        w[i] = isfinite(top) ? exp(w[i] - top) / t->share[i] : 0;
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
    for (size_t j = 1; j < t->a.kinds; j++)
        mean_like[j] = rounds_log_mean_like(t, j);
    set_together(t, mean_like);
    free(mean_like);
    for (size_t k = 0; k < t->members; k++)
        t->evidence[k] = weigh_member(t, k);
    weigh_members(t);
    memset(t->total, 0, t->count * sizeof *t->total);
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++) {
            t->weight[k * TRAIL_MOST + i] *= t->mix[k];
            t->total[i] += t->weight[k * TRAIL_MOST + i];
        }
    for (size_t i = 0; i < t->count; i++)
        squares += t->total[i] * t->total[i];
    t->ess = squares > 0 ? 1 / squares : 0;
}

/* ---- where the next round is drawn ---- */

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
    round->normals = TRAIL_NORMALS;
    for (size_t n = 0; n < TRAIL_NORMALS; n++) {
        size_t at = trail_walk(
            weight, t->count, ((double)n + walk.offset) / TRAIL_NORMALS, &walk);
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

/* ---- errors ---- */

/* What some draws say of one kind of test. */
typedef struct {
    double mean, square; /* of ln sigma */
    double explained;    /* share of the variance */
    double *factor;      /* of each reading's weight under Student's t */
} Errors;

static void find_errors(Trail *t, size_t kind, Errors *found) {
    const TestData *own = t->a.kind[kind].data;
    const Marginal *marginal = t->marginal[kind];
    size_t n = own->count;
    double *x = mem_new(n + 1, sizeof *x);
    Walk walk = {gsl_rng_uniform(t->rng), 0, 0, NULL};
    Points points = points_new(TRAIL_DICE, t->rng);
    Picked p = {.at = (size_t)-1};
    for (int i = 0; i < LEARNED; i++) {
        double m, s, u[TRAIL_DICE];
        size_t at =
            trail_walk(t->total, t->count, (i + walk.offset) / LEARNED, &walk);
        size_t k;
        Rest rest;
        points_next(&points, u);
        k = trail_member(t, at, u[0]);
        if (at != p.at)
            trail_pick(t, marginal, at, kind, &p);
        trail_pick_member(t, marginal, k, &p);
        marginal_sigma(marginal, p.cell[k], &m, &s);
        found->mean += m / LEARNED;
        found->square += s / LEARNED;
        trail_response(t, kind, n, p.share[k], x);
        rest =
            marginal_rest(marginal, &p.gram, p.share[k], x, p.cell[k], u + 1);
        found->explained += rest.b * rest.b /
                            (rest.b * rest.b + rest.sigma * rest.sigma) /
                            LEARNED;
        for (size_t r = 0; r < n; r++) {
            double e = own->value[r] - own->value[0] - rest.level -
                       rest.trend * marginal_time(marginal, r) - rest.b * x[r];
            e /= rest.sigma;
            found->factor[r] += 5 / (4 + own->weight[r] * e * e) / LEARNED;
        }
    }
    points_free(&points);
    free(x);
}

/* Errors of every kind; `last`: only to say how much is explained. */
static void learn(Trail *t, bool last) {
    t->explained = 0;
    for (size_t j = 0; j < t->a.kinds; j++) {
        size_t n = t->a.kind[j].data->count;
        Errors found = {.factor = mem_new(n + 1, sizeof(double))};
        if (n > 0)
            find_errors(t, j, &found);
        t->explained = fmax(t->explained, found.explained);
        if (n > 3 && t->a.kind[j].prior.heavy && !last)
            marginal_reweigh(t->marginal[j], found.factor);
        if (n > 0 && !last)
            marginal_aim(t->marginal[j], found.mean,
                         sqrt(fmax(0, found.square - found.mean * found.mean)));
        free(found.factor);
    }
}

/* ---- a run ---- */

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
        trail_likes(t, t->marginal, i, t->like + i, TRAIL_MOST);
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
        learn(t, false);
        *adapted = adapt(t, round);
        t->count = t->rounds = 0;
    }
    return true;
}

StatusCode rounds_run(const PosteriorAsked *asked, Trail **trail,
                      Status *status) {
    Trail *t = *trail = trail_new(asked);
    Round round = {.of_prior = 0};
    bool adapted = false;
    if (!look(t, &round, &adapted))
        return none_allowed(t, status);
    do {
        if (!run_round(t, &round, adapted, TRAIL_ROUND))
            return none_allowed(t, status);
        if (t->ess >= GOOD_ESS)
            break;
        adapted = adapt(t, &round);
    } while (adapted && t->rounds < TRAIL_ROUNDS);
    learn(t, true);
    return STATUS_OK;
}

/* ---- for a squad ---- */

ShapeSample rounds_sample(Trail *t) {
    ShapeSample s = {.count = POOL_SHAPES};
    double *even = trail_half_evenly(t);
    size_t *order = trail_by_fatigue(t);
    Walk walk = {.5, 0, 0, order};
    for (int k = 0; k < SHAPE_POOLED; k++)
        s.theta[k] = t->sample[k] = mem_new(s.count, sizeof *t->sample[k]);
    s.log_ratio = t->sample_ratio =
        mem_new(s.count * t->members, sizeof *t->sample_ratio);
    for (size_t i = 0; i < s.count; i++) {
        size_t at = trail_walk(
            even, t->count, ((double)i + walk.offset) / (double)s.count, &walk);
        for (int k = 0; k < SHAPE_POOLED; k++)
            t->sample[k][i] = t->theta[k][at];
        for (size_t k = 0; k < t->members; k++)
            t->sample_ratio[k * s.count + i] =
                t->weight[k * TRAIL_MOST + at] > 0
                    ? log(t->weight[k * TRAIL_MOST + at] / t->mix[k] /
                          even[at]) +
                          t->evidence[k] - t->density[k * TRAIL_MOST + at] +
                          log_unpooled(t, at)
                    : -INFINITY;
    }
    free(order);
    free(even);
    return s;
}
