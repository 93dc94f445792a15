/* basis: see basis.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/basis.h"

#include "base/mem.h"
#include "calibrate/lanes.h"

#include <math.h>
#include <stdlib.h>

int basis_taus(ResponseKind kind, Param taus[SHAPE_TAUS]) {
    static const Param order[] = {PARAM_TAU1, PARAM_TAU2, PARAM_TAU_RISE,
                                  PARAM_TAU3};
    int count = 0;
    for (int i = 0; i < 4; i++)
        if (response_has(kind, order[i]))
            taus[count++] = order[i];
    return count;
}

Param basis_fatigue_gain(ResponseKind kind) {
    if (response_has(kind, PARAM_K2))
        return PARAM_K2;
    return response_has(kind, PARAM_K3) ? PARAM_K3 : PARAMS;
}

void basis_allocate(size_t count, Basis *b) {
    double *block = mem_new((2 + SHAPE_TAUS) * count, sizeof *block);
    b->fitness = block;
    b->fatigue = block + count;
    for (size_t i = 0; i < SHAPE_TAUS; i++)
        b->slope[i] = block + (2 + i) * count;
}

void basis_free(Basis *b) {
    free(b->fitness);
    *b = (Basis){0};
}

/* One exponential and its slope by ln tau. */
typedef struct {
    double tau;
    double sum, slope; /* sum of w e^(-a/tau), of w (a/tau) e^(-a/tau) */
    double gap, decay; /* of the last step: most are alike */
} Trace;

static Trace trace_start(double tau, const Timeline *t) {
    Trace trace = {tau, 0, 0, 0, 1};
    double q = exp(-1 / tau), rest = -expm1(-1 / tau);
    double first = t->before * exp(-t->before_age / tau);
    trace.sum = first / rest;
    trace.slope =
        first * (t->before_age / tau / rest + q / tau / (rest * rest));
    return trace;
}

INSIDE void trace_age(Trace *trace, double gap) {
    if (gap != trace->gap) {
        trace->gap = gap;
        trace->decay = exp(-gap / trace->tau);
    }
    trace->slope =
        trace->decay * (trace->slope + gap / trace->tau * trace->sum);
    trace->sum *= trace->decay;
}

/* Memory of the variable dose, the fatigue it makes, and its slopes. */
typedef struct {
    Trace memory;  /* by ln tau3 */
    Trace fatigue; /* by ln tau2 */
    double by_tau3;
} Dose;

static Dose dose_start(double tau2, double tau3, const Timeline *t) {
    Timeline own = *t; /* each day w times the memory after its own load */
    Dose dose;
    double q = exp(-1 / tau3), rest = -expm1(-1 / tau3);
    dose.memory = trace_start(tau3, t);
    own.before = t->before * t->before / rest;
    dose.fatigue = trace_start(tau2, &own);
    dose.by_tau3 = t->before > 0 ? dose.fatigue.sum * q / tau3 / rest : 0;
    return dose;
}

INSIDE void dose_age(Dose *dose, double gap) {
    trace_age(&dose->memory, gap);
    trace_age(&dose->fatigue, gap);
    dose->by_tau3 *= dose->fatigue.decay;
}

INSIDE void dose_take(Dose *dose, double load) {
    dose->memory.sum += load;
    dose->fatigue.sum += dose->memory.sum * load;
    dose->by_tau3 += dose->memory.slope * load;
}

/* All states of a run. */
typedef struct {
    ResponseKind kind;
    Trace fitness, fatigue, rise;
    Dose dose;
} Run;

INSIDE void run_start(Run *r, const double *taus, const Timeline *t) {
    r->fitness = trace_start(taus[0], t);
    if (r->kind == RESPONSE_TWO_COMPONENT || r->kind == RESPONSE_DELAYED)
        r->fatigue = trace_start(taus[1], t);
    if (r->kind == RESPONSE_DELAYED)
        r->rise = trace_start(taus[2], t);
    if (r->kind == RESPONSE_VARIABLE_DOSE)
        r->dose = dose_start(taus[1], taus[2], t);
}

INSIDE void run_age(Run *r, double gap) {
    trace_age(&r->fitness, gap);
    if (r->kind == RESPONSE_TWO_COMPONENT || r->kind == RESPONSE_DELAYED)
        trace_age(&r->fatigue, gap);
    if (r->kind == RESPONSE_DELAYED)
        trace_age(&r->rise, gap);
    if (r->kind == RESPONSE_VARIABLE_DOSE)
        dose_age(&r->dose, gap);
}

INSIDE void run_take(Run *r, double load) {
    r->fitness.sum += load;
    if (r->kind == RESPONSE_TWO_COMPONENT || r->kind == RESPONSE_DELAYED)
        r->fatigue.sum += load;
    if (r->kind == RESPONSE_DELAYED)
        r->rise.sum += load;
    if (r->kind == RESPONSE_VARIABLE_DOSE)
        dose_take(&r->dose, load);
}

INSIDE void run_read(const Run *r, size_t i, bool slopes, Basis *b) {
    b->fitness[i] = r->fitness.sum;
    b->fatigue[i] = r->fatigue.sum;
    if (r->kind == RESPONSE_DELAYED)
        b->fitness[i] -= r->rise.sum;
    if (r->kind == RESPONSE_VARIABLE_DOSE)
        b->fatigue[i] = r->dose.fatigue.sum;
    if (!slopes)
        return;
    b->slope[0][i] = r->fitness.slope;
    b->slope[1][i] = r->fatigue.slope;
    if (r->kind == RESPONSE_DELAYED)
        b->slope[2][i] = -r->rise.slope;
    if (r->kind == RESPONSE_VARIABLE_DOSE) {
        b->slope[1][i] = r->dose.fatigue.slope;
        b->slope[2][i] = r->dose.by_tau3;
    }
}

/* The compiler knows the kind, and leaves out what others have. */
INSIDE void run_kind(ResponseKind kind, const double *taus,
                     const TestData *data, bool slopes, Basis *b) {
    const Timeline *t = &data->timeline;
    Run r = {.kind = kind};
    size_t next = 0;
    run_start(&r, taus, t);
    for (size_t i = 0; i < t->steps && next < data->count; i++) {
        size_t after;
        if (i > 0)
            run_age(&r, t->gap ? t->gap[i] : 1);
        for (after = next; after < data->count && data->step[after] == i;
             after++)
            if (data->when[after] == READ_BEFORE)
                run_read(&r, after, slopes, b);
        run_take(&r, t->load[i]);
        for (; next < after; next++)
            if (data->when[next] == READ_AFTER)
                run_read(&r, next, slopes, b);
    }
}

INSIDE void run_slopes(ResponseKind kind, const double *taus,
                       const TestData *data, bool slopes, Basis *b) {
    if (slopes)
        run_kind(kind, taus, data, true, b);
    else
        run_kind(kind, taus, data, false, b);
}

void basis_run(ResponseKind kind, const double taus[SHAPE_TAUS],
               const TestData *data, bool slopes, Basis *b) {
    b->slope_is_fitness[0] = true;
    b->slope_is_fitness[1] = false;
    b->slope_is_fitness[2] = kind == RESPONSE_DELAYED;
    if (kind == RESPONSE_ONE_COMPONENT)
        run_slopes(RESPONSE_ONE_COMPONENT, taus, data, slopes, b);
    else if (kind == RESPONSE_TWO_COMPONENT)
        run_slopes(RESPONSE_TWO_COMPONENT, taus, data, slopes, b);
    else if (kind == RESPONSE_DELAYED)
        run_slopes(RESPONSE_DELAYED, taus, data, slopes, b);
    else
        run_slopes(RESPONSE_VARIABLE_DOSE, taus, data, slopes, b);
}

/* ---- many at once ---- */

/* A lane for each of some time constants, in groups: what one waits for, the
 * other computes meanwhile. */
enum { GROUPS = 2, AT_ONCE = GROUPS * LANES };

/* States and decays of the traces of a run: fitness, fatigue, and the rise or
 * the memory of the variable dose. */
typedef struct {
    Lane sum[SHAPE_TAUS][GROUPS], decay[SHAPE_TAUS][GROUPS];
} Lanes;

static void set_lane(Lane *group, size_t at, double value) {
    group[at / LANES][at % LANES] = value;
}

static void lanes_start(ResponseKind kind, const Timeline *t, const double *tau,
                        size_t at, Lanes *l) {
    Run r = {.kind = kind};
    run_start(&r, tau, t);
    set_lane(l->sum[0], at, r.fitness.sum);
    set_lane(l->sum[1], at, r.fatigue.sum);
    set_lane(l->sum[2], at, r.rise.sum);
    if (kind == RESPONSE_VARIABLE_DOSE) {
        set_lane(l->sum[1], at, r.dose.fatigue.sum);
        set_lane(l->sum[2], at, r.dose.memory.sum);
    }
}

static void lanes_set_decay(int taus, const double *tau, size_t used,
                            double gap, Lanes *l) {
    for (int k = 0; k < taus; k++)
        for (size_t j = 0; j < used; j++)
            set_lane(l->decay[k], j,
                     exp(-gap / tau[j * SHAPE_TAUS + (size_t)k]));
}

INSIDE void lanes_read(ResponseKind kind, const Lanes *l, size_t used,
                       size_t tests, double *fitness, double *fatigue) {
    double fit[AT_ONCE], other[AT_ONCE];
    for (size_t g = 0; g < GROUPS; g++) {
        Lane sum = l->sum[0][g];
        if (kind == RESPONSE_DELAYED)
            sum -= l->sum[2][g];
        lane_store(&sum, LANES, fit + g * LANES);
        lane_store(&l->sum[1][g], LANES, other + g * LANES);
    }
    for (size_t j = 0; j < used; j++) {
        fitness[j * tests] = fit[j];
        if (kind != RESPONSE_ONE_COMPONENT)
            fatigue[j * tests] = other[j];
    }
}

INSIDE void lanes_take(ResponseKind kind, double load, Lanes *l) {
#pragma GCC unroll 2
    for (int g = 0; g < GROUPS; g++) {
        l->sum[0][g] += load;
        if (kind == RESPONSE_TWO_COMPONENT || kind == RESPONSE_DELAYED)
            l->sum[1][g] += load;
        if (kind == RESPONSE_DELAYED || kind == RESPONSE_VARIABLE_DOSE)
            l->sum[2][g] += load;
        if (kind == RESPONSE_VARIABLE_DOSE)
            l->sum[1][g] += l->sum[2][g] * load;
    }
}

INSIDE void lanes_age(int taus, Lanes *l) {
#pragma GCC unroll 3
    for (int k = 0; k < taus; k++)
#pragma GCC unroll 2
        for (int g = 0; g < GROUPS; g++)
            l->sum[k][g] *= l->decay[k][g];
}

INSIDE void lanes_run(ResponseKind kind, int taus, const double *tau,
                      size_t used, const TestData *d, double *fitness,
                      double *fatigue) {
    const Timeline *t = &d->timeline;
    Lanes l = {0};
    double last = NAN;
    size_t next = 0;
    for (size_t j = 0; j < used; j++)
        lanes_start(kind, t, tau + j * SHAPE_TAUS, j, &l);
    for (size_t i = 0; i < t->steps && next < d->count; i++) {
        double gap = t->gap ? t->gap[i] : 1;
        size_t after;
        if (i > 0 && gap != last) {
            lanes_set_decay(taus, tau, used, gap, &l);
            last = gap;
        }
        if (i > 0)
            lanes_age(taus, &l);
        for (after = next; after < d->count && d->step[after] == i; after++)
            if (d->when[after] == READ_BEFORE)
                lanes_read(kind, &l, used, d->count, fitness + after,
                           fatigue + after);
        lanes_take(kind, t->load[i], &l);
        for (; next < after; next++)
            if (d->when[next] == READ_AFTER)
                lanes_read(kind, &l, used, d->count, fitness + next,
                           fatigue + next);
    }
}

WIDE static void some_run(ResponseKind kind, const double *tau, size_t used,
                          const TestData *d, double *fitness, double *fatigue) {
    if (kind == RESPONSE_ONE_COMPONENT)
        lanes_run(RESPONSE_ONE_COMPONENT, 1, tau, used, d, fitness, fatigue);
    else if (kind == RESPONSE_TWO_COMPONENT)
        lanes_run(RESPONSE_TWO_COMPONENT, 2, tau, used, d, fitness, fatigue);
    else if (kind == RESPONSE_DELAYED)
        lanes_run(RESPONSE_DELAYED, 3, tau, used, d, fitness, fatigue);
    else
        lanes_run(RESPONSE_VARIABLE_DOSE, 3, tau, used, d, fitness, fatigue);
}

void basis_many(ResponseKind kind, size_t count, const double *taus,
                const TestData *data, double *fitness, double *fatigue) {
    for (size_t from = 0; from < count; from += AT_ONCE)
        some_run(kind, taus + from * SHAPE_TAUS,
                 count - from < AT_ONCE ? count - from : AT_ONCE, data,
                 fitness + from * data->count, fatigue + from * data->count);
}
