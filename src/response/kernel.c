/* kernel: see kernel.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/kernel.h"

#include "base/wide.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* State left by one unit a day for ever, `age` days after the last of them:
 * the geometric series e^(-age/tau) (1 + e^(-1/tau) + ...). */
static double steady(double tau, double age) {
    return -exp(-age / tau) / expm1(-1 / tau);
}

void kernel_start(const ResponseParams *params, double before, double age,
                  KernelState *state) {
    const double *v = params->value;
    Components c = response_components(params);
    *state = (KernelState){.memory = 0};
    for (int k = 0; k < c.count; k++)
        state->part[k] = before * steady(c.item[k].tau, age);
    if (response_linear(params->kind))
        return;
    assert(params->value[PARAM_K3] >= 0); /* settled */
    state->memory = before * steady(v[PARAM_TAU3], age);
    state->fatigue =
        before * before * steady(v[PARAM_TAU3], 0) * steady(v[PARAM_TAU2], age);
}

/* Decay over a gap of each state; kept from step to step, since most gaps are
 * alike. */
typedef struct {
    double gap; /* [d] NAN: not yet known */
    double part[COMPONENTS_MOST], memory, fatigue;
} Decay;

static void decay_set(const ResponseParams *params, const Components *c,
                      double gap, Decay *decay) {
    decay->gap = gap;
    for (int k = 0; k < c->count; k++)
        decay->part[k] = exp(-gap / c->item[k].tau);
    if (response_linear(params->kind))
        return;
    decay->memory = exp(-gap / params->value[PARAM_TAU3]);
    decay->fatigue = exp(-gap / params->value[PARAM_TAU2]);
}

static void state_age(const Components *c, const Decay *decay,
                      KernelState *state) {
    for (int k = 0; k < c->count; k++)
        state->part[k] *= decay->part[k];
    state->memory *= decay->memory;
    state->fatigue *= decay->fatigue;
}

static void state_take(const Components *c, double load, KernelState *state) {
    for (int k = 0; k < c->count; k++)
        state->part[k] += load;
    state->memory += load;
    state->fatigue += state->memory * load;
}

static void state_read(const ResponseParams *params, const Components *c,
                       const KernelState *state, double *fitness,
                       double *fatigue) {
    double part[2] = {0, 0};
    for (int k = 0; k < c->count; k++)
        part[k >= c->fitness] += c->item[k].gain * state->part[k];
    *fitness = part[0];
    *fatigue = -part[1] + 0.0;
    if (!response_linear(params->kind))
        *fatigue += params->value[PARAM_K3] * state->fatigue;
}

void kernel_go(const ResponseParams *params, const Timeline *t, size_t from,
               size_t to, ReadWhen when, KernelState *state, double *fitness,
               double *fatigue) {
    Components c = response_components(params);
    Decay decay = {.gap = NAN};
    for (size_t i = from; i < to; i++) {
        if (when == READ_BEFORE)
            state_read(params, &c, state, fitness++, fatigue++);
        state_take(&c, t->load[i], state);
        if (when == READ_AFTER)
            state_read(params, &c, state, fitness++, fatigue++);
        if (i + 1 < t->steps) {
            double gap = t->gap ? t->gap[i + 1] : 1;
            if (gap != decay.gap)
                decay_set(params, &c, gap, &decay);
            state_age(&c, &decay, state);
        }
    }
}

void kernel_run(const ResponseParams *params, const Timeline *t, ReadWhen when,
                double *fitness, double *fatigue) {
    KernelState state;
    kernel_start(params, t->before, t->before_age, &state);
    kernel_go(params, t, 0, t->steps, when, &state, fitness, fatigue);
}

enum { LANES = 16 }; /* parameter sets carried side by side */

/* The states of some parameter sets, one component of all of them in a row. */
typedef struct {
    int components;
    bool grows; /* a kind whose fatigue grows with recent load */
    double base[LANES];
    double gain[COMPONENTS_MOST][LANES], rate[COMPONENTS_MOST][LANES];
    double state[COMPONENTS_MOST][LANES], decay[COMPONENTS_MOST][LANES];
    double k3[LANES], memory_rate[LANES], fatigue_rate[LANES];
    double memory[LANES], memory_decay[LANES];
    double fatigue[LANES], fatigue_decay[LANES];
} Lanes;

static void lane_start(Lanes *lanes, size_t j, const ResponseParams *p,
                       const Timeline *t) {
    Components c = response_components(p);
    KernelState state;
    kernel_start(p, t->before, t->before_age, &state);
    lanes->components = c.count;
    lanes->grows = !response_linear(p->kind);
    lanes->base[j] = p->value[PARAM_P0];
    for (int k = 0; k < c.count; k++) {
        lanes->gain[k][j] = c.item[k].gain;
        lanes->rate[k][j] = -1 / c.item[k].tau;
        lanes->state[k][j] = state.part[k];
        lanes->decay[k][j] = 1;
    }
    if (!lanes->grows)
        return;
    lanes->k3[j] = p->value[PARAM_K3];
    lanes->memory_rate[j] = -1 / p->value[PARAM_TAU3];
    lanes->fatigue_rate[j] = -1 / p->value[PARAM_TAU2];
    lanes->memory[j] = state.memory;
    lanes->fatigue[j] = state.fatigue;
    lanes->memory_decay[j] = lanes->fatigue_decay[j] = 1;
}

static void lanes_set_decay(Lanes *lanes, double gap) {
    for (int k = 0; k < lanes->components; k++)
        for (size_t j = 0; j < LANES; j++)
            lanes->decay[k][j] = exp(gap * lanes->rate[k][j]);
    for (size_t j = 0; j < LANES && lanes->grows; j++) {
        lanes->memory_decay[j] = exp(gap * lanes->memory_rate[j]);
        lanes->fatigue_decay[j] = exp(gap * lanes->fatigue_rate[j]);
    }
}

/* Fatigue that grows with recent load: decay, read, take up the load. */
INSIDE void lanes_step_growing(Lanes *lanes, double load, ReadWhen when,
                               double *out) {
    for (size_t j = 0; j < LANES; j++) {
        double memory = lanes->memory[j] * lanes->memory_decay[j] + load;
        double before = lanes->fatigue[j] * lanes->fatigue_decay[j];
        double after = before + memory * load;
        out[j] -= lanes->k3[j] * (when == READ_AFTER ? after : before);
        lanes->memory[j] = memory;
        lanes->fatigue[j] = after;
    }
}

/* Eight lanes, an operand of its own to the compiler. */
typedef double Eight __attribute__((vector_size(64)));
enum { EIGHTS = LANES / 8 };

/* What grows with recent load in a step, apart from what all kinds have. */
INSIDE void take_dose(Lanes *lanes, double load, ReadWhen when, Eight *out) {
    double all[LANES];
    memcpy(all, out, sizeof all);
    lanes_step_growing(lanes, load, when, all);
    memcpy(out, all, sizeof all);
}

/* Where the states of all lanes are wanted: before the load of a step. */
typedef struct {
    size_t step;
    KernelState *state; /* [used] NULL: nowhere */
} Stop;

static void lanes_tell(const Lanes *lanes, size_t used, KernelState *state) {
    for (size_t j = 0; j < used; j++) {
        for (int k = 0; k < lanes->components; k++)
            state[j].part[k] = lanes->state[k][j] * lanes->decay[k][j];
        state[j].memory = lanes->memory[j] * lanes->memory_decay[j];
        state[j].fatigue = lanes->fatigue[j] * lanes->fatigue_decay[j];
    }
}

/* All steps of the lanes: decay, read, take up the load. The compiler knows the
 * number of components and keeps their states in registers. */
INSIDE void lanes_run(Lanes *lanes, int components, const Timeline *t,
                      ReadWhen when, size_t used, size_t sets,
                      double *readiness, const Stop *stop) {
    Eight state[COMPONENTS_MOST][EIGHTS], decay[COMPONENTS_MOST][EIGHTS];
    Eight gain[COMPONENTS_MOST][EIGHTS], base[EIGHTS];
    double last_gap = NAN;
    memcpy(state, lanes->state, sizeof state);
    memcpy(gain, lanes->gain, sizeof gain);
    memcpy(decay, lanes->decay, sizeof decay);
    memcpy(base, lanes->base, sizeof base);
    for (size_t i = 0; i < t->steps; i++) {
        double gap = t->gap ? t->gap[i] : 1, load = t->load[i];
        double add = when == READ_AFTER ? load : 0;
        Eight out[EIGHTS];
        if (i > 0 && gap != last_gap) {
            lanes_set_decay(lanes, gap);
            memcpy(decay, lanes->decay, sizeof decay);
            last_gap = gap;
        }
        if (i == stop->step && stop->state) {
            memcpy(lanes->state, state, sizeof state);
            lanes_tell(lanes, used, stop->state);
        }
#pragma GCC unroll 2
        for (int p = 0; p < EIGHTS; p++) {
            out[p] = base[p];
#pragma GCC unroll 3
            for (int k = 0; k < components; k++) {
                Eight s = state[k][p] * decay[k][p];
                out[p] += gain[k][p] * (s + add);
                state[k][p] = s + load;
            }
        }
        if (lanes->grows)
            take_dose(lanes, load, when, out);
        if (used == LANES)
            memcpy(readiness + i * sets, out, sizeof out);
        else
            memcpy(readiness + i * sets, out, used * sizeof *readiness);
    }
}

WIDE void kernel_batch_at(size_t sets, const ResponseParams *params,
                          const Timeline *t, ReadWhen when, double *readiness,
                          size_t step, KernelState *state) {
    for (size_t from = 0; from < sets; from += LANES) {
        size_t used = sets - from < LANES ? sets - from : LANES;
        Stop stop = {step, state ? state + from : NULL};
        Lanes lanes = {.components = 0};
        for (size_t j = 0; j < LANES; j++)
            lane_start(&lanes, j, &params[from + (j < used ? j : 0)], t);
        if (lanes.components == 1)
            lanes_run(&lanes, 1, t, when, used, sets, readiness + from, &stop);
        else if (lanes.components == 2)
            lanes_run(&lanes, 2, t, when, used, sets, readiness + from, &stop);
        else
            lanes_run(&lanes, 3, t, when, used, sets, readiness + from, &stop);
    }
}

void kernel_batch(size_t sets, const ResponseParams *params, const Timeline *t,
                  ReadWhen when, double *readiness) {
    kernel_batch_at(sets, params, t, when, readiness, 0, NULL);
}

double kernel_influence_of(const Components *c, double age) {
    double sum = 0;
    if (age <= 0)
        return 0;
    for (int k = 0; k < c->count; k++)
        sum += c->item[k].gain * exp(-age / c->item[k].tau);
    return sum;
}

double kernel_influence(const ResponseParams *params, double age) {
    Components c = response_components(params);
    return kernel_influence_of(&c, age);
}
