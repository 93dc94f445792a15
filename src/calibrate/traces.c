/* traces: see traces.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/traces.h"

#include "base/mem.h"
#include "base/wide.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    POINTS = 8, /* neighbours between which is interpolated */
    FORE = 3,   /* of them before the last one below */
    NODES = 96,
    AT_ONCE = 8 /* nodes whose covariances are summed side by side */
};

static const double shortest = .2, longest = 1000; /* [d] */
static const double apart = .1;                    /* nodes, in ln tau */

struct Traces {
    size_t tests;
    size_t wide;                     /* tests, and up to seven more */
    double *at_test;                 /* [NODES * wide] */
    double mean[NODES];              /* over the steps of the log */
    double covariance[NODES][NODES]; /* likewise */
};

static double tau_of(int node) {
    return shortest * exp(apart * (node - FORE));
}

/* All nodes' traces before each step's load, and at the tests. */
WIDE static void run(const TestData *d, double *restrict before, size_t wide,
                     double *restrict at_test) {
    const Timeline *t = &d->timeline;
    double state[NODES], decay[NODES], last = NAN;
    size_t next = 0;
    for (int k = 0; k < NODES; k++)
        state[k] = -t->before * exp(-t->before_age / tau_of(k)) /
                   expm1(-1 / tau_of(k));
    for (size_t i = 0; i < t->steps; i++) {
        double gap = t->gap ? t->gap[i] : 1, load = t->load[i];
        for (int k = 0; k < NODES && i > 0 && gap != last; k++)
            decay[k] = exp(-gap / tau_of(k));
        last = i > 0 ? gap : last;
        for (int k = 0; k < NODES && i > 0; k++)
            state[k] *= decay[k];
        memcpy(before + i * NODES, state, sizeof state);
        for (; next < d->count && d->step[next] == i; next++)
            for (int k = 0; k < NODES; k++)
                at_test[(size_t)k * wide + next] =
                    state[k] + (d->when[next] == READ_AFTER ? load : 0);
        for (int k = 0; k < NODES; k++)
            state[k] += load;
    }
}

/* Less the first step, which loses fewer digits to cancellation. */
WIDE static void centre(size_t steps, double *restrict before,
                        double *restrict mean) {
    double first[NODES];
    memcpy(first, before, sizeof first);
    memset(mean, 0, NODES * sizeof *mean);
    for (size_t i = 0; i < steps; i++)
        for (size_t k = 0; k < NODES; k++) {
            before[i * NODES + k] -= first[k];
            mean[k] += before[i * NODES + k];
        }
    for (size_t k = 0; k < NODES; k++)
        mean[k] /= (double)steps;
    for (size_t i = 0; i < steps; i++)
        for (size_t k = 0; k < NODES; k++)
            before[i * NODES + k] -= mean[k];
    for (size_t k = 0; k < NODES; k++)
        mean[k] += first[k];
}

/* Products of some nodes with some others, summed over all steps. */
WIDE static void covary_some(size_t steps, const double *restrict value,
                             size_t a, size_t b,
                             double (*restrict sum)[AT_ONCE]) {
    double own[AT_ONCE][AT_ONCE] = {{0}};
    for (size_t i = 0; i < steps; i++) {
        const double *x = value + i * NODES + a, *y = value + i * NODES + b;
#pragma GCC unroll 8
        for (int k = 0; k < AT_ONCE; k++)
            for (int m = 0; m < AT_ONCE; m++)
                own[k][m] += x[k] * y[m];
    }
    memcpy(sum, own, sizeof own);
}

static void covary(size_t steps, const double *value, Traces *t) {
    for (size_t a = 0; a < NODES; a += AT_ONCE)
        for (size_t b = a; b < NODES; b += AT_ONCE) {
            double sum[AT_ONCE][AT_ONCE];
            covary_some(steps, value, a, b, sum);
            for (size_t k = 0; k < AT_ONCE; k++)
                for (size_t m = 0; m < AT_ONCE; m++)
                    t->covariance[a + k][b + m] = t->covariance[b + m][a + k] =
                        sum[k][m] / (double)steps;
        }
}

Traces *traces_build(const TestData *d) {
    size_t steps = d->timeline.steps;
    Traces *t = mem_new(1, sizeof *t);
    double *before = mem_new(steps * NODES, sizeof *before);
    t->tests = d->count;
    t->wide = (d->count + AT_ONCE - 1) / AT_ONCE * AT_ONCE;
    t->at_test = mem_new(t->wide * NODES, sizeof *t->at_test);
    run(d, before, t->wide, t->at_test);
    centre(steps, before, t->mean);
    covary(steps, before, t);
    free(before);
    return t;
}

void traces_free(Traces *t) {
    if (t)
        free(t->at_test);
    free(t);
}

/* A trace as a sum over neighbouring nodes. */
typedef struct {
    size_t from;
    double weight[POINTS]; /* gain included */
} Blend;

/* Lagrange's weights for equal distances. */
static bool blend(double gain, double tau, Blend *b) {
    /* 1/product of (i - j) over j other than i, for i = 0 ... 7 */
    static const double scale[POINTS] = {-1 / 5040., 1 / 720.,  -1 / 240.,
                                         1 / 144.,   -1 / 144., 1 / 240.,
                                         -1 / 720.,  1 / 5040.};
    double x, left[POINTS], right = gain;
    if (!(tau >= shortest && tau <= longest))
        return false;
    x = log(tau / shortest) / apart;
    b->from = (size_t)x;
    x += FORE - (double)b->from;
    left[0] = 1;
    for (int i = 1; i < POINTS; i++)
        left[i] = left[i - 1] * (x - (i - 1));
    for (int i = POINTS; i-- > 0;) {
        b->weight[i] = left[i] * right * scale[i];
        right *= x - i;
    }
    return true;
}

static double value_at(const Blend *b, const double *node) {
    double sum = 0;
    for (int i = 0; i < POINTS; i++)
        sum += b->weight[i] * node[b->from + (size_t)i];
    return sum;
}

INSIDE double covariance_of(const Traces *t, const Blend *a, const Blend *b) {
    double row[POINTS] = {0}, sum = 0;
#pragma GCC unroll 8
    for (size_t i = 0; i < POINTS; i++)
        for (size_t k = 0; k < POINTS; k++)
            row[k] += a->weight[i] * t->covariance[a->from + i][b->from + k];
    for (size_t k = 0; k < POINTS; k++)
        sum += row[k] * b->weight[k];
    return sum;
}

/* Some tests side by side. */
INSIDE void read_some(const Traces *t, const Blend *part, int parts,
                      size_t from, double *z) {
    double sum[AT_ONCE] = {0};
    size_t used = t->tests - from < AT_ONCE ? t->tests - from : AT_ONCE;
    for (int p = 0; p < parts; p++) {
        const double *node = t->at_test + part[p].from * t->wide + from;
#pragma GCC unroll 8
        for (size_t k = 0; k < POINTS; k++)
            for (size_t i = 0; i < AT_ONCE; i++)
                sum[i] += part[p].weight[k] * node[k * t->wide + i];
    }
    memcpy(z + from, sum, used * sizeof *z);
}

WIDE static double read_all(const Traces *t, const Blend *part, int parts,
                            double *z) {
    double variance = 0;
    for (size_t from = 0; from < t->tests; from += AT_ONCE)
        read_some(t, part, parts, from, z);
    for (int k = 0; k < parts; k++) {
        variance += covariance_of(t, &part[k], &part[k]);
        for (int m = 0; m < k; m++)
            variance += 2 * covariance_of(t, &part[k], &part[m]);
    }
    return variance;
}

bool traces_read(const Traces *t, const ResponseParams *params, double *z,
                 double *spread) {
    Components c = response_components(params);
    Blend part[COMPONENTS_MOST];
    double variance, mean = 0;
    if (!response_linear(params->kind))
        return false;
    for (int k = 0; k < c.count; k++)
        if (!blend(c.item[k].gain, c.item[k].tau, &part[k]))
            return false;
    variance = read_all(t, part, c.count, z);
    for (int k = 0; k < c.count; k++)
        mean += value_at(&part[k], t->mean);
    *spread = fmax(sqrt(fmax(0, variance)), 1e-12 * (1 + fabs(mean)));
    return true;
}
