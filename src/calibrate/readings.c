/* readings: see readings.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/readings.h"

#include "base/mem.h"
#include "calibrate/points.h"
#include "calibrate/trail.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TRIED = 256 /* shapes, evenly of all */ };

struct Readings {
    Trail *trail;
    size_t count, tests, members;
    double *part;                /* [(shape * PARTS + part) * tests + test] */
    double (*share)[PARTS];      /* [shape * members + member] */
    double *prior;               /* ln, the same */
    double *weight;              /* of the prediction, the same */
    double sigma_mean, sigma_sd; /* ln, of the one before; SD 0: none yet */
};

static void read_shape(Readings *r, size_t i) {
    Trail *t = r->trail;
    size_t from = i * t->count / r->count;
    double shape[SHAPES];
    PartSpread spread;
    trail_shape(t, from, shape);
    trail_read(t, shape, &spread);
    for (size_t k = 0; k < PARTS && r->tests > 0; k++)
        memcpy(r->part + (i * PARTS + k) * r->tests, t->part[k],
               r->tests * sizeof *r->part);
    for (size_t m = 0; m < r->members; m++) {
        trail_share(&spread, trail_ratio(t, shape), t->growth[m],
                    r->share[i * r->members + m]);
        r->prior[i * r->members + m] =
            t->density[m * TRAIL_MOST + from] - log(t->share[from]);
    }
}

Readings *readings_new(Trail *t) {
    Readings *r = mem_new(1, sizeof *r);
    r->trail = t;
    r->count = t->count < TRIED ? t->count : TRIED;
    r->tests = t->a.kind->data->count;
    r->members = t->members;
    r->part = mem_new(r->count * PARTS * r->tests + 1, sizeof *r->part);
    r->share = mem_new(r->count * r->members, sizeof *r->share);
    r->prior = mem_new(r->count * r->members, sizeof *r->prior);
    r->weight = mem_new(r->count * r->members, sizeof *r->weight);
    for (size_t i = 0; i < r->count; i++)
        read_shape(r, i);
    return r;
}

void readings_free(Readings *r) {
    free(r->part);
    free(r->share);
    free(r->prior);
    free(r->weight);
    free(r);
}

static void find_gram(const Readings *r, const Marginal *m, size_t shape,
                      Gram *gram) {
    const double *part[PARTS];
    for (size_t k = 0; k < PARTS; k++)
        part[k] = r->part + (shape * PARTS + k) * r->tests;
    marginal_gram(m, part, gram);
}

/* Weights, which sum to 1, and where sigma is. */
static void weigh(Readings *r, const Marginal *m) {
    size_t n = r->count * r->members;
    double top = -INFINITY, all = 0, mean = 0, square = 0;
    double(*moment)[2] = mem_new(n, sizeof *moment);
    for (size_t i = 0; i < n; i++) {
        double cell[CELLS];
        Gram gram;
        if (i % r->members == 0)
            find_gram(r, m, i / r->members, &gram);
        r->weight[i] = marginal_log(m, &gram, r->share[i], cell) + r->prior[i];
        marginal_sigma(m, cell, &moment[i][0], &moment[i][1]);
        top = fmax(top, r->weight[i]);
    }
    for (size_t i = 0; i < n; i++) {
        r->weight[i] = exp(r->weight[i] - top);
        all += r->weight[i];
        mean += r->weight[i] * moment[i][0];
        square += r->weight[i] * moment[i][1];
    }
    for (size_t i = 0; i < n; i++)
        r->weight[i] /= all;
    r->sigma_mean = mean / all;
    r->sigma_sd =
        sqrt(fmax(1e-6, square / all - r->sigma_mean * r->sigma_mean));
    free(moment);
}

/* The response at some tests, less that at the first. */
static void respond(const Readings *r, size_t at, size_t tests, double *x) {
    const double *part = r->part + at / r->members * PARTS * r->tests;
    for (size_t i = 0; i < tests; i++) {
        x[i] = 0;
        for (size_t k = 0; k < PARTS; k++)
            x[i] +=
                r->share[at][k] * (part[k * r->tests + i] - part[k * r->tests]);
    }
}

/* Level, trend, scale of a draw make all of its readings to come. */
static void draw(const Readings *r, const Marginal *m, size_t tests,
                 size_t ahead, size_t draws, double *reading, double *sigma) {
    const Trail *t = r->trail;
    double *x = mem_new(tests + ahead, sizeof *x), cell[CELLS];
    Walk walk = {gsl_rng_uniform(t->rng), 0, 0, NULL};
    Points points = points_new(REST_DICE, t->rng);
    size_t old = (size_t)-1;
    Gram gram;
    for (size_t i = 0; i < draws; i++) {
        size_t at =
            trail_walk(r->weight, r->count * r->members,
                       ((double)i + walk.offset) / (double)draws, &walk);
        double u[REST_DICE];
        Rest rest;
        if (at != old) {
            find_gram(r, m, at / r->members, &gram);
            marginal_log(m, &gram, r->share[at], cell);
            respond(r, at, tests + ahead, x);
        }
        old = at;
        points_next(&points, u);
        rest = marginal_rest(m, &gram, r->share[at], x, cell, u);
        sigma[i] = rest.sigma;
        for (size_t k = 0; k < ahead; k++)
            reading[k * draws + i] =
                t->a.kind->data->value[0] + rest.level + rest.b * x[tests + k] +
                rest.trend * marginal_time(t->marginal[0], tests + k);
    }
    points_free(&points);
    free(x);
}

void readings_predict(Readings *r, size_t tests, size_t ahead, size_t draws,
                      double *reading, double *sigma) {
    TestData data = *r->trail->a.kind->data;
    Marginal *m;
    data.count = tests;
    m = marginal_new(&data, &r->trail->a.kind->prior);
    if (r->sigma_sd > 0)
        marginal_aim(m, r->sigma_mean, 1.3 * r->sigma_sd);
    weigh(r, m);
    draw(r, m, tests, ahead, draws, reading, sigma);
    marginal_free(m);
}
