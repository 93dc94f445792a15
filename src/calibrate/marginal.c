/* marginal: see marginal.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/marginal.h"

#include "base/mem.h"
#include "base/number.h"
#include "calibrate/lanes.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double season = 182, closest = .5; /* [d] */
static const double memory[CORRELATIONS] = {0, 7, 21};

_Static_assert((int)SIGMAS == (int)LANES, "a lane for each sigma");

struct Marginal {
    const TestData *data;
    const PosteriorPrior *prior;
    size_t count;
    int memories;  /* correlation times in use */
    double *y, *t; /* less the first reading; [season] since it */
    double *weight;
    double grain;       /* variance that rounding adds; 0: finely told */
    Quad *own, *before; /* whitened: own x[i] - before x[i - 1] */
    Quad *one, *time, *reading; /* 1, t and y whitened */
    double log_det[QUADS];      /* of the whitening */
    /* sums of whitened ones, trend and readings: level taken out */
    double level[QUADS];                   /* root of the level's square */
    double t_level[QUADS], y_level[QUADS]; /* along the level */
    double along[QUADS]; /* root of the trend's square; 0: there is none */
    double y_trend[QUADS], yy[QUADS];
    Quad level_over, along_over; /* 1 over them, or 0 */
    /* cells */
    double log_sigma, step; /* of the first cell; between cells */
    double constant[CORRELATIONS][LANES], by_sigma[LANES],
        by_trend[CORRELATIONS][LANES];
    double highest;                    /* of the constants */
    double share[CORRELATIONS][LANES]; /* e^(constant - the highest) */
};

/* ---- the readings ---- */

static double moment_of(const TestData *d, size_t step) {
    double at = 0;
    if (!d->timeline.gap)
        return (double)step;
    for (size_t i = 1; i <= step; i++)
        at += d->timeline.gap[i];
    return at;
}

/* Of a reading after another, [d] later, by correlation time. */
static double kept_over(int which, double gap) {
    return memory[which] > 0 ? exp(-fmax(gap, closest) / memory[which]) : 0;
}

static void whiten_common(Marginal *m) {
    for (size_t i = 0; i < m->count; i++) {
        m->one[i] = m->own[i] - m->before[i];
        m->time[i] = m->own[i] * m->t[i];
        m->reading[i] = m->own[i] * m->y[i];
        if (i == 0)
            continue;
        m->time[i] -= m->before[i] * m->t[i - 1];
        m->reading[i] -= m->before[i] * m->y[i - 1];
    }
}

static void whiten(Marginal *m) {
    for (int f = 0; f < QUADS; f++)
        m->log_det[f] = 0;
    for (size_t i = 0; i < m->count; i++)
        for (int f = 0; f < QUADS; f++) {
            double gap = i > 0 ? (m->t[i] - m->t[i - 1]) * season : 0;
            double kept = i > 0 && f < m->memories ? kept_over(f, gap) : 0;
            double scale = 1 / sqrt(1 - kept * kept);
            m->own[i][f] = scale * sqrt(m->weight[i]);
            m->before[i][f] = i > 0 ? scale * kept * sqrt(m->weight[i - 1]) : 0;
            m->log_det[f] += log(scale);
        }
    whiten_common(m);
}

/* Level, trend and readings among each other. */
static void sum_common(Marginal *m) {
    Quad ll = {0}, lt = {0}, ly = {0}, tt = {0}, ty = {0}, yy = {0};
    for (size_t i = 0; i < m->count; i++) {
        Quad l = m->one[i], t = m->time[i], y = m->reading[i];
        ll += l * l;
        lt += l * t;
        ly += l * y;
        tt += t * t;
        ty += t * y;
        yy += y * y;
    }
    for (int f = 0; f < QUADS; f++) {
        double root = sqrt(ll[f]), left;
        m->level[f] = root;
        m->level_over[f] = 1 / root;
        m->t_level[f] = lt[f] / root;
        m->y_level[f] = ly[f] / root;
        left = tt[f] - m->t_level[f] * m->t_level[f];
        m->along[f] = m->prior->trend > 0 && left > 1e-9 * tt[f] && left > 0
                          ? sqrt(left)
                          : 0;
        m->along_over[f] = m->along[f] > 0 ? 1 / m->along[f] : 0;
        m->y_trend[f] =
            (ty[f] - m->t_level[f] * m->y_level[f]) * m->along_over[f];
        m->yy[f] = fmax(0, yy[f] - m->y_level[f] * m->y_level[f] -
                               m->y_trend[f] * m->y_trend[f]);
    }
}

/* ---- the cells ---- */

static double variance_at(const Marginal *m, double log_sigma) {
    return exp(2 * log_sigma) + m->grain;
}

/* ln of the normal density of ln sigma. */
static double log_prior(const PosteriorPrior *p, double log_sigma) {
    double off = (log_sigma - log(p->sigma)) / p->sigma_spread;
    return -.5 * off * off - log(p->sigma_spread) - .5 * log(2 * M_PI);
}

/* ln of all but the response, at one sigma. */
static double log_constant(const Marginal *m, int f, double log_sigma) {
    double square = variance_at(m, log_sigma);
    double trend = m->prior->trend * m->along[f];
    double with = square + trend * trend;
    double free = (double)m->count - (m->along[f] > 0 ? 2 : 1);
    double sum = log_prior(m->prior, log_sigma) - log(m->memories) +
                 m->log_det[f] - log(m->level[f]) - .5 * free * log(square) -
                 .5 * m->yy[f] / square;
    if (m->along[f] > 0)
        sum -= .5 * (log(with) + m->y_trend[f] * m->y_trend[f] / with);
    return sum - .5 * (double)(m->count - 1) * log(2 * M_PI);
}

static void set_cells(Marginal *m) {
    m->highest = -INFINITY;
    for (int s = 0; s < SIGMAS; s++) {
        double log_sigma = m->log_sigma + s * m->step;
        double square = variance_at(m, log_sigma);
        m->by_sigma[s] = 1 / square;
        for (int f = 0; f < m->memories; f++) {
            double trend = m->prior->trend * m->along[f];
            m->by_trend[f][s] = 1 / (square + trend * trend);
            m->constant[f][s] = log_constant(m, f, log_sigma) + log(m->step);
            m->highest = fmax(m->highest, m->constant[f][s]);
        }
    }
    for (int f = 0; f < m->memories; f++)
        for (int s = 0; s < SIGMAS; s++)
            m->share[f][s] = exp(m->constant[f][s] - m->highest);
}

/* Where sigma is when `left` is the sum of squares that is not explained: the
 * normal prior of ln sigma times S^(-free/2) e^(-left/(2 S)), S being sigma^2
 * and what rounding adds, its mode by Newton's method and its SD there. */
static double sigma_mode(const Marginal *m, double left, double *sd) {
    double v = m->prior->sigma_spread * m->prior->sigma_spread;
    double centre = log(m->prior->sigma), free = (double)m->count - 1;
    double at = fmin(centre, .5 * log(left / (free + 1e-9))), bend = 1 / v;
    for (int i = 0; i < 40; i++) {
        double square = variance_at(m, at), own = 1 - m->grain / square;
        double pull = left / square;
        double slope = -(at - centre) / v - own * (free - pull);
        bend = 1 / v + 2 * own * own * pull;
        at += fmax(-1, fmin(1, slope / bend));
    }
    *sd = 1 / sqrt(bend);
    return at;
}

/* Where sigma is looked for first: from what it would be were all but a
 * hundredth explained, to what it would be were nothing. */
static void span_sigma(const Marginal *m, double *low, double *high) {
    double most = m->yy[0] + m->y_trend[0] * m->y_trend[0], sd;
    most = fmax(most, 1e-6 * m->prior->sigma * m->prior->sigma);
    *low = sigma_mode(m, .01 * most, &sd);
    *low -= 2.5 * sd;
    *high = sigma_mode(m, most, &sd);
    *high += 4 * sd;
}

static void aim_wide(Marginal *m) {
    double low, high;
    span_sigma(m, &low, &high);
    m->log_sigma = low;
    m->step = (high - low) / (SIGMAS - 1);
    set_cells(m);
}

void marginal_aim(Marginal *m, double mean, double sd) {
    if (m->count == 0)
        return;
    sd = hypot(sd, .25 * m->step);
    m->log_sigma = mean - 3 * sd;
    m->step = 6 * sd / (SIGMAS - 1);
    set_cells(m);
}

Marginal *marginal_new(const TestData *d, const PosteriorPrior *prior) {
    Marginal *m = mem_new(1, sizeof *m);
    double step;
    *m = (Marginal){.data = d, .prior = prior, .count = d->count};
    m->memories = prior->correlated ? CORRELATIONS : 1;
    m->y = mem_new(3 * d->count + 1, sizeof *m->y);
    m->t = m->y + d->count;
    m->weight = m->t + d->count;
    m->own = mem_new(5 * d->count + 1, sizeof *m->own);
    m->before = m->own + d->count;
    m->one = m->before + d->count;
    m->time = m->one + d->count;
    m->reading = m->time + d->count;
    for (size_t i = 0; i < d->count; i++) {
        m->y[i] = d->value[i] - d->value[0];
        m->t[i] =
            (moment_of(d, d->step[i]) - moment_of(d, d->step[0])) / season;
        m->weight[i] = d->weight[i];
    }
    /* Answers on a scale of a few steps are rounded ones, and no error is
     * smaller than that: step^2/12 (Sheppard 1898, Proc Lond Math Soc
     * 29:353-380; from memory). */
    step = number_step(d->value, d->count);
    m->grain = step * step / 12;
    if (d->count == 0)
        return m;
    whiten(m);
    sum_common(m);
    aim_wide(m);
    return m;
}

void marginal_free(Marginal *m) {
    if (!m)
        return;
    free(m->y);
    free(m->own);
    free(m);
}

void marginal_reweigh(Marginal *m, const double *factor) {
    double sum = 0;
    for (size_t i = 0; i < m->count; i++)
        sum += factor[i] / (double)m->count;
    for (size_t i = 0; i < m->count; i++)
        m->weight[i] = m->data->weight[i] * factor[i] / sum;
    whiten(m);
    sum_common(m);
    set_cells(m);
}

/* ---- a shape ---- */

INSIDE void gram_sums(const Marginal *m, const double *const part[PARTS],
                      Quad *level, Gram *g) {
    const Quad none = {0};
    Quad old[PARTS] = {none, none, none}, xx[PAIRS] = {none};
    Quad l[PARTS] = {none}, t[PARTS] = {none}, y[PARTS] = {none};
    for (size_t i = 0; i < m->count; i++) {
        Quad x[PARTS];
#pragma GCC unroll 3
        for (int k = 0; k < PARTS; k++) {
            Quad value = none + (part[k][i] - part[k][0]);
            x[k] = m->own[i] * value - m->before[i] * old[k];
            old[k] = value;
            l[k] += x[k] * m->one[i];
            t[k] += x[k] * m->time[i];
            y[k] += x[k] * m->reading[i];
        }
        xx[0] += x[0] * x[0];
        xx[1] += x[1] * x[0];
        xx[2] += x[1] * x[1];
        xx[3] += x[2] * x[0];
        xx[4] += x[2] * x[1];
        xx[5] += x[2] * x[2];
    }
    memcpy(level, l, sizeof l);
    memcpy(g->xt, t, sizeof t);
    memcpy(g->xy, y, sizeof y);
    memcpy(g->xx, xx, sizeof xx);
}

WIDE void marginal_gram(const Marginal *m, const double *const part[PARTS],
                        Gram *g) {
    Quad level[PARTS], t_level, y_level, y_trend;
    int pair = 0;
    gram_sums(m, part, level, g);
    memcpy(&t_level, m->t_level, sizeof t_level);
    memcpy(&y_level, m->y_level, sizeof y_level);
    memcpy(&y_trend, m->y_trend, sizeof y_trend);
    for (int k = 0; k < PARTS; k++) {
        level[k] *= m->level_over;
        g->xt[k] = (g->xt[k] - level[k] * t_level) * m->along_over;
        g->xy[k] -= level[k] * y_level + g->xt[k] * y_trend;
    }
    for (int k = 0; k < PARTS; k++)
        for (int j = 0; j <= k; j++, pair++)
            g->xx[pair] -= level[k] * level[j] + g->xt[k] * g->xt[j];
}

/* The response's square, along the trend, with the readings. */
typedef struct {
    Quad xx, xt, xy;
} Along;

INSIDE void combine(const Gram *g, const double share[PARTS], Along *to) {
    Along a = {{0}, {0}, {0}};
    int pair = 0;
    for (int k = 0; k < PARTS; k++) {
        for (int j = 0; j <= k; j++, pair++)
            a.xx += share[k] * share[j] * (k == j ? 1 : 2) * g->xx[pair];
        a.xt += share[k] * g->xt[k];
        a.xy += share[k] * g->xy[k];
    }
    *to = a;
}

/* b over its prior's SD is normal, its precision `lambda`, its mean `pull` over
 * that, cut at 0. */
INSIDE void scale_of(const Marginal *m, const Along *a, int f, Lane *lambda,
                     Lane *pull) {
    Lane by_sigma, by_trend;
    double unit = m->prior->effect, square = unit * unit;
    double xx = a->xx[f] > 0 ? a->xx[f] : 0, xt = a->xt[f];
    lane_load(m->by_sigma, LANES, &by_sigma);
    lane_load(m->by_trend[f], LANES, &by_trend);
    *lambda = by_sigma * (xx * square) + by_trend * (xt * xt * square) + 1;
    *pull =
        by_sigma * (a->xy[f] * unit) + by_trend * (xt * m->y_trend[f] * unit);
}

/* With a the size of b's mean in SDs over the root of 2, and e^constant all
 * that does not hang on the response, the likelihood of a cell is e^constant
 * times

       2 e^(a^2) - erfcx(a)   where that mean is above 0,
       erfcx(a)               where it is not,

   over the root of lambda. */
INSIDE double sum_cells(const Marginal *m, const Along *along, int count,
                        double *cell) {
    enum { MOST = CORRELATIONS };
    const Lane none = {0};
    Lane power[MOST], mean[MOST], over[MOST], highest, sum = {0};
    Bits below[MOST];
    double top, scale;
#pragma GCC unroll 3
    for (int f = 0; f < count; f++)
        scale_of(m, along, f, &over[f], &mean[f]);
    lanes_over_root(count, over);
#pragma GCC unroll 3
    for (int f = 0; f < count; f++) {
        Lane constant, positive;
        Bits more;
        mean[f] *= M_SQRT1_2 * over[f];
        below[f] = mean[f] < none;
        positive = -mean[f];
        lane_choose(&below[f], &positive, &mean[f]);
        mean[f] = positive;
        lane_load(m->constant[f], LANES, &constant);
        power[f] = constant + mean[f] * mean[f];
        lane_choose(&below[f], &constant, &power[f]);
        if (f == 0)
            highest = constant;
        more = highest > constant;
        lane_choose(&more, &highest, &constant);
    }
    top = lane_highest(&highest);
#pragma GCC unroll 3
    for (int f = 0; f < count; f++)
        power[f] -= top;
    lanes_exp(count, power);
    lanes_erfcx(count, mean);
    scale = exp(m->highest - top); /* at most 1, and as no power is less */
#pragma GCC unroll 3
    for (int f = 0; f < count; f++) {
        Lane tail, all;
        lane_load(m->share[f], LANES, &tail);
        tail *= scale * mean[f];
        all = 2 * power[f] - tail;
        lane_choose(&below[f], &tail, &all);
        tail *= over[f];
        if (cell)
            lane_store(&tail, LANES, cell + (size_t)f * LANES);
        sum += tail;
    }
    return top + log(lane_sum(&sum));
}

WIDE double marginal_log(const Marginal *m, const Gram *g,
                         const double share[PARTS], double *cell) {
    Along along;
    if (m->count == 0)
        return 0;
    combine(g, share, &along);
    return m->memories == CORRELATIONS
               ? sum_cells(m, &along, CORRELATIONS, cell)
               : sum_cells(m, &along, 1, cell);
}

double marginal_log_none(const Marginal *m) {
    enum { FINE = 128 };
    double low, high, step, top = -INFINITY, sum = 0, value[FINE];
    if (m->count == 0)
        return 0;
    span_sigma(m, &low, &high);
    step = (high - low) / (FINE - 1);
    for (int pass = 0; pass < 2; pass++)
        for (int f = 0; f < m->memories; f++)
            for (int s = 0; s < FINE; s++) {
                value[s] = log_constant(m, f, low + s * step);
                if (pass == 0)
                    top = fmax(top, value[s]);
                else
                    sum += exp(value[s] - top) * step;
            }
    return top + log(sum);
}

/* ---- the rest of a draw ---- */

/* The cell at a share `u` of them all. */
static int cell_at(const Marginal *m, const double *cell, double u) {
    int cells = m->memories * SIGMAS, at = 0;
    double sum = 0, wanted = 0;
    for (int c = 0; c < cells; c++)
        wanted += cell[c] * u;
    for (sum = cell[0]; sum < wanted && at + 1 < cells;)
        sum += cell[++at];
    return at;
}

/* ln sigma inside a cell: exponential between what its neighbours say. */
static double inside(const Marginal *m, const double *cell, int at, double u) {
    int s = at % SIGMAS;
    double left = s > 0 ? cell[at - 1] : cell[at];
    double right = s + 1 < SIGMAS ? cell[at + 1] : cell[at];
    double steep = .5 * log(fmax(right, 1e-300) / fmax(left, 1e-300));
    if (s == 0 || s + 1 == SIGMAS)
        steep *= 2;
    steep = fmax(-20, fmin(20, steep));
    u = fabs(steep) > 1e-6 ? log1p(u * expm1(steep)) / steep : u;
    return m->log_sigma + m->step * (s + u - .5);
}

/* A normal of mean mu cut at 0, at a share u: far out as an exponential. */
static double cut_normal(double mu, double sd, double u) {
    double a = -mu / sd;
    u = fmax(u, 0x1p-53);
    if (a < 5)
        return mu - sd * gsl_cdf_ugaussian_Pinv(u * gsl_cdf_ugaussian_Q(a));
    return sd * (sqrt(a * a - 2 * log(u)) - a);
}

static double normal_at(double u) {
    return gsl_cdf_ugaussian_Pinv(fmin(fmax(u, 0x1p-53), 1 - 0x1p-53));
}

/* What the response leaves of the readings. */
typedef struct {
    double level, trend; /* along them, whitened */
} Left;

static Left left_over(const Marginal *m, int f, const double *x, double b) {
    double level = 0, trend = 0, old = 0;
    for (size_t i = 0; i < m->count; i++) {
        double now = m->y[i] - b * x[i];
        double e = m->own[i][f] * now - m->before[i][f] * old;
        level += e * m->one[i][f];
        trend += e * m->time[i][f];
        old = now;
    }
    level /= m->level[f];
    return (Left){level, (trend - m->t_level[f] * level) * m->along_over[f]};
}

/* b of one cell. */
static double draw_scale(const Marginal *m, const Gram *g,
                         const double share[PARTS], int at, double u) {
    Along along;
    Lane lambda, pull;
    int s = at % SIGMAS;
    combine(g, share, &along);
    scale_of(m, &along, at / SIGMAS, &lambda, &pull);
    return m->prior->effect *
           cut_normal(pull[s] / lambda[s], 1 / sqrt(lambda[s]), u);
}

Rest marginal_rest(const Marginal *m, const Gram *g, const double share[PARTS],
                   const double *x, const double *cell,
                   const double dice[REST_DICE]) {
    int at = cell_at(m, cell, dice[REST_CELL]), f = at / SIGMAS;
    double trend = m->prior->trend * m->along[f], square, kept;
    Rest rest = {
        .sigma = sqrt(variance_at(m, inside(m, cell, at, dice[REST_SIGMA]))),
        .b = draw_scale(m, g, share, at, dice[REST_B])};
    Left left = left_over(m, f, x, rest.b);
    square = rest.sigma * rest.sigma;
    kept = trend > 0 ? trend * trend / (square + trend * trend) : 0;
    left.level += rest.sigma * normal_at(dice[REST_LEVEL]);
    left.trend = kept * left.trend +
                 rest.sigma * sqrt(kept) * normal_at(dice[REST_TREND]);
    rest.trend = left.trend * m->along_over[f];
    rest.level = (left.level - rest.trend * m->t_level[f]) * m->level_over[f];
    return rest;
}

void marginal_sigma(const Marginal *m, const double *cell, double *mean,
                    double *square) {
    double all = 0;
    *mean = *square = 0;
    for (int c = 0; c < m->memories * SIGMAS; c++) {
        double x = m->log_sigma + m->step * (c % SIGMAS);
        all += cell[c];
        *mean += cell[c] * x;
        *square += cell[c] * x * x;
    }
    *mean /= all;
    *square /= all;
}

double marginal_time(const Marginal *m, size_t reading) {
    return m->t[reading];
}
