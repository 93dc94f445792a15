/* traces: see traces.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/traces.h"

#include "base/mem.h"
#include "calibrate/lanes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    POINTS = LANES,        /* neighbours between which is interpolated */
    FORE = POINTS / 2 - 1, /* of them before the last one below */
    NODES = 96,
    AT_ONCE = 8 /* nodes whose covariances are summed side by side */
};

static const double shortest = .2, longest = 1000; /* [d] */
static const double apart = .1;                    /* nodes, in ln tau */

struct Traces {
    size_t tests;
    size_t wide;     /* tests, and up to seven more */
    double *at_test; /* [NODES * wide] */
    double mean[NODES];
    double covariance[NODES][NODES]; /* over the steps of the log */
    double product[NODES][NODES];    /* over the tests */
    double own[NODES][LANES];        /* of a trace alone: enum Own */
    double weight[POINTS][LANES];    /* of the neighbours by powers of the place
                                        between them, highest first */
    double log_shortest, top;
};

/* The last two go with the square of the gain. */
enum Own { OWN_FIRST, OWN_Z, OWN_ZY, OWN_MEAN, OWN_ZZ, OWN_VARIANCE };

static double tau_of(int node) {
    return shortest * exp(apart * (node - FORE));
}

/* ---- the table ---- */

/* Of a log with a step each day: traces before the first load and after the
 * last day, and their products with the loads, all less what the mean load
 * would leave. */
typedef struct {
    double load, square; /* mean, sum of squares about it */
    double kept[NODES];  /* of a trace from day to day */
    double lost[NODES];  /* 1 less that */
    double level[NODES]; /* that the mean load would leave */
    double first[NODES], last[NODES], with_load[NODES];
} Days;

static void days_start(const Timeline *t, Days *days) {
    *days = (Days){.load = 0};
    for (size_t i = 0; i < t->steps; i++)
        days->load += t->load[i] / (double)t->steps;
    for (size_t i = 0; i < t->steps; i++)
        days->square += (t->load[i] - days->load) * (t->load[i] - days->load);
    for (int k = 0; k < NODES; k++) {
        days->kept[k] = exp(-1 / tau_of(k));
        days->lost[k] = -expm1(-1 / tau_of(k));
        days->level[k] = days->kept[k] * days->load / days->lost[k];
    }
}

INSIDE void days_take(double load, const double *state, Days *days) {
    double own = load - days->load;
    for (int k = 0; k < NODES; k++)
        days->with_load[k] += own * (state[k] - days->level[k]);
}

static void start(const Timeline *t, double *state) {
    for (int k = 0; k < NODES; k++)
        state[k] = -t->before * exp(-t->before_age / tau_of(k)) /
                   expm1(-1 / tau_of(k));
}

/* All nodes' traces at the tests and, unless `before` is NULL, before each
 * step's load. */
WIDE static void run(const TestData *d, Days *days, double *restrict before,
                     size_t wide, double *restrict at_test) {
    const Timeline *t = &d->timeline;
    double state[NODES], decay[NODES], last = NAN;
    size_t next = 0;
    start(t, state);
    for (size_t i = 0; i < t->steps; i++) {
        double gap = t->gap ? t->gap[i] : 1, load = t->load[i];
        for (int k = 0; k < NODES && i > 0 && gap != last; k++)
            decay[k] = exp(-gap / tau_of(k));
        last = i > 0 ? gap : last;
        for (int k = 0; k < NODES && i > 0; k++)
            state[k] *= decay[k];
        if (before)
            memcpy(before + i * NODES, state, sizeof state);
        else
            days_take(load, state, days);
        for (; next < d->count && d->step[next] == i; next++)
            for (int k = 0; k < NODES; k++)
                at_test[(size_t)k * wide + next] =
                    state[k] + (d->when[next] == READ_AFTER ? load : 0);
        for (int k = 0; k < NODES; k++)
            state[k] += load;
    }
    for (int k = 0; k < NODES; k++)
        days->last[k] = days->kept[k] * state[k] - days->level[k];
    start(t, days->first);
    for (int k = 0; k < NODES; k++)
        days->first[k] -= days->level[k];
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

/* Products of some nodes with some others, summed over all rows. */
WIDE static void multiply_some(size_t rows, const double *restrict value,
                               size_t a, size_t b,
                               double (*restrict sum)[AT_ONCE]) {
    double own[AT_ONCE][AT_ONCE] = {{0}};
    for (size_t i = 0; i < rows; i++) {
        const double *x = value + i * NODES + a, *y = value + i * NODES + b;
#pragma GCC unroll 8
        for (int k = 0; k < AT_ONCE; k++)
            for (int m = 0; m < AT_ONCE; m++)
                own[k][m] += x[k] * y[m];
    }
    memcpy(sum, own, sizeof own);
}

static void multiply(size_t rows, const double *value, double share,
                     double to[NODES][NODES]) {
    for (size_t a = 0; a < NODES; a += AT_ONCE)
        for (size_t b = a; b < NODES; b += AT_ONCE) {
            double sum[AT_ONCE][AT_ONCE];
            multiply_some(rows, value, a, b, sum);
            for (size_t k = 0; k < AT_ONCE; k++)
                for (size_t m = 0; m < AT_ONCE; m++)
                    to[a + k][b + m] = to[b + m][a + k] = sum[k][m] * share;
        }
}

/* Covariances over the days without a sum over the days for each. A trace goes
 * from F to q (F + w) by day, so the products P = F_a F_b sum to S with
 *
 *     S - P(first) + P(last) = q_a q_b (S + A_a + A_b + W)
 *
 * where A are the sums of F w and W is that of w^2. */
WIDE static void covary_days(size_t steps, const Days *restrict d,
                             Traces *restrict t) {
    double n = (double)steps, centred[NODES];
    for (int a = 0; a < NODES; a++) {
        centred[a] = (d->first[a] - d->last[a]) / d->lost[a] / n;
        t->mean[a] = centred[a] + d->level[a];
    }
    for (int a = 0; a < NODES; a++)
        for (int b = 0; b < NODES; b++) {
            double sum = d->kept[a] * d->kept[b] *
                             (d->with_load[a] + d->with_load[b] + d->square) +
                         d->first[a] * d->first[b] - d->last[a] * d->last[b];
            sum /= d->lost[a] + d->kept[a] * d->lost[b];
            t->covariance[a][b] = sum / n - centred[a] * centred[b];
        }
}

static void covary(const TestData *d, Traces *t) {
    size_t steps = d->timeline.steps;
    double *before =
        d->timeline.gap ? mem_new(steps * NODES, sizeof *before) : NULL;
    Days days;
    days_start(&d->timeline, &days);
    run(d, &days, before, t->wide, t->at_test);
    if (before) {
        centre(steps, before, t->mean);
        multiply(steps, before, 1 / (double)steps, t->covariance);
    } else
        covary_days(steps, &days, t);
    free(before);
}

/* What there is to sum over the tests, of traces less those at the first. */
static void sum_tests(const TestData *d, Traces *t) {
    double *value = mem_new(d->count * NODES, sizeof *value);
    for (size_t k = 0; k < NODES; k++) {
        const double *f = t->at_test + k * t->wide;
        double *own = t->own[k];
        own[OWN_FIRST] = f[0];
        own[OWN_MEAN] = t->mean[k];
        for (size_t i = 0; i < d->count; i++) {
            own[OWN_Z] += d->weight[i] * (f[i] - f[0]);
            own[OWN_ZY] +=
                d->weight[i] * (f[i] - f[0]) * (d->value[i] - d->value[0]);
        }
    }
    for (size_t i = 0; i < d->count; i++) {
        double root = sqrt(d->weight[i]);
        for (size_t k = 0; k < NODES; k++)
            value[i * NODES + k] =
                root * (t->at_test[k * t->wide + i] - t->at_test[k * t->wide]);
    }
    multiply(d->count, value, 1, t->product);
    for (size_t k = 0; k < NODES; k++) {
        t->own[k][OWN_ZZ] = t->product[k][k];
        t->own[k][OWN_VARIANCE] = t->covariance[k][k];
    }
    free(value);
}

/* Lagrange's polynomials for equal distances, by powers of the place from the
 * middle. */
static void set_weights(Traces *t) {
    for (int i = 0; i < POINTS; i++) {
        double power[POINTS + 1] = {1}; /* lowest first */
        int degree = 0;
        for (int j = 0; j < POINTS; j++) {
            double root = j - (POINTS - 1) / 2., over = 1. / (i - j + (i == j));
            if (j == i)
                continue;
            for (int k = ++degree; k >= 0; k--)
                power[k] =
                    ((k > 0 ? power[k - 1] : 0) - root * power[k]) * over;
        }
        for (int k = 0; k < POINTS; k++)
            t->weight[POINTS - 1 - k][i] = power[k];
    }
}

Traces *traces_build(const TestData *d) {
    Traces *t = mem_new(1, sizeof *t);
    t->tests = d->count;
    t->wide = (d->count + AT_ONCE - 1) / AT_ONCE * AT_ONCE;
    t->at_test = mem_new(t->wide * NODES, sizeof *t->at_test);
    t->log_shortest = log(shortest);
    t->top = log(longest / shortest) / apart;
    set_weights(t);
    covary(d, t);
    sum_tests(d, t);
    return t;
}

void traces_free(Traces *t) {
    if (t)
        free(t->at_test);
    free(t);
}

/* ---- reading it ---- */

/* A trace as a sum over neighbouring nodes. */
typedef struct {
    size_t from;
    Lane all; /* weights, gain included */
    double weight[POINTS];
} Blend;

INSIDE bool blend(const Traces *t, double gain, double log_tau, Blend *b) {
    double x = (log_tau - t->log_shortest) * (1 / apart);
    Lane sum, next;
    if (!(x >= 0 && x <= t->top))
        return false;
    b->from = (size_t)x;
    x -= (double)b->from + .5;
    lane_load(t->weight[0], LANES, &sum);
#pragma GCC unroll 7
    for (int i = 1; i < POINTS; i++) {
        lane_load(t->weight[i], LANES, &next);
        sum = sum * x + next;
    }
    b->all = sum * gain;
    lane_store(&b->all, LANES, b->weight);
    return true;
}

INSIDE bool blend_shape(const Traces *t, const TraceShapes *s, int parts,
                        size_t at, Blend *b) {
    for (int p = 0; p < parts; p++)
        if (!blend(t, s->gain[p][at], s->log_tau[p][at], &b[p]))
            return false;
    return true;
}

INSIDE void add_rows(const double *from, size_t stride, const Blend *b,
                     Lane *sum) {
#pragma GCC unroll 8
    for (size_t i = 0; i < POINTS; i++) {
        Lane row;
        lane_load(from + i * stride, LANES, &row);
        *sum += b->weight[i] * row;
    }
}

/* What the products of a table add to the square of the sum of all parts. */
INSIDE double crossed(const double table[NODES][NODES], int parts,
                      const Blend *b) {
    Lane all = {0};
    for (int q = 1; q < parts; q++) {
        Lane row = {0};
        for (int p = 0; p < q; p++)
            add_rows(&table[b[p].from][b[q].from], NODES, &b[p], &row);
        all += row * b[q].all;
    }
    return 2 * lane_sum(&all);
}

static double spread_of(double variance, double mean) {
    double floor = 1e-12 * (1 + fabs(mean));
    return variance > floor * floor ? sqrt(variance) : floor;
}

INSIDE void sums_of(const Traces *t, const TraceShapes *s, int parts,
                    const TraceSums *to) {
    for (size_t at = 0; at < s->count; at++) {
        Blend b[COMPONENTS_MOST];
        Lane own = {0};
        if (!blend_shape(t, s, parts, at, b)) {
            to->spread[at] = NAN;
            continue;
        }
        for (int p = 0; p < parts; p++) {
            double gain = s->gain[p][at];
            Lane part = {0};
            add_rows(t->own[b[p].from], LANES, &b[p], &part);
            own += part * (Lane){1, 1, 1, 1, gain, gain, 1, 1};
        }
        to->first[at] = own[OWN_FIRST];
        to->z[at] = own[OWN_Z];
        to->zy[at] = own[OWN_ZY];
        to->zz[at] = own[OWN_ZZ] + crossed(t->product, parts, b);
        to->spread[at] =
            spread_of(own[OWN_VARIANCE] + crossed(t->covariance, parts, b),
                      own[OWN_MEAN]);
    }
}

/* The compiler knows the number of parts. */
WIDE void traces_sums(const Traces *t, const TraceShapes *s,
                      const TraceSums *to) {
    if (s->parts == 1)
        sums_of(t, s, 1, to);
    else if (s->parts == 2)
        sums_of(t, s, 2, to);
    else
        sums_of(t, s, 3, to);
}

INSIDE void read_tests(const Traces *t, const Blend *b, int parts, double *z) {
    for (size_t from = 0; from < t->tests; from += LANES) {
        Lane sum = {0};
        for (int p = 0; p < parts; p++)
            add_rows(t->at_test + b[p].from * t->wide + from, t->wide, &b[p],
                     &sum);
        lane_store(&sum, t->tests - from, z + from);
    }
}

WIDE void traces_tests(const Traces *t, const TraceShapes *s, double *z) {
    for (size_t at = 0; at < s->count; at++) {
        Blend b[COMPONENTS_MOST];
        if (blend_shape(t, s, s->parts, at, b))
            read_tests(t, b, s->parts, z + at * t->tests);
        else
            memset(z + at * t->tests, 0, t->tests * sizeof *z);
    }
}

bool traces_read(const Traces *t, const ResponseParams *params, double *z,
                 double *spread) {
    Components c = response_components(params);
    double log_tau[COMPONENTS_MOST], sum[5];
    TraceShapes s = {.count = 1, .parts = c.count};
    TraceSums to = {&sum[0], &sum[1], &sum[2], &sum[3], &sum[4]};
    if (!response_linear(params->kind))
        return false;
    for (int k = 0; k < c.count; k++) {
        log_tau[k] = log(c.item[k].tau);
        s.log_tau[k] = &log_tau[k];
        s.gain[k] = &c.item[k].gain;
    }
    traces_sums(t, &s, &to);
    if (isnan(sum[4]))
        return false;
    *spread = sum[4];
    traces_tests(t, &s, z);
    return true;
}
