/* kernel: see kernel.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/kernel.h"

#include <math.h>

/* State left by one unit a day for ever, `age` days after the last of them:
 * the geometric series e^(-age/tau) (1 + e^(-1/tau) + ...). */
static double steady(double tau, double age) {
    return -exp(-age / tau) / expm1(-1 / tau);
}

void kernel_run(const ResponseParams *params, const Timeline *t, ReadWhen when,
                double *fitness, double *fatigue) {
    Components c = response_components(params);
    double state[COMPONENTS_MOST], decay[COMPONENTS_MOST];
    double last_gap = NAN;
    for (int k = 0; k < c.count; k++)
        state[k] = t->before * steady(c.item[k].tau, t->before_age);
    for (size_t i = 0; i < t->steps; i++) {
        double gap = t->gap ? t->gap[i] : 1, part[2] = {0, 0};
        for (int k = 0; k < c.count && gap != last_gap && i > 0; k++)
            decay[k] = exp(-gap / c.item[k].tau);
        if (i > 0)
            last_gap = gap;
        for (int k = 0; k < c.count; k++) {
            if (i > 0)
                state[k] *= decay[k];
            part[k >= c.fitness] +=
                c.item[k].gain *
                (when == READ_AFTER ? state[k] + t->load[i] : state[k]);
            state[k] += t->load[i];
        }
        fitness[i] = part[0];
        fatigue[i] = -part[1] + 0.0;
    }
}

enum { LANES = 16 }; /* parameter sets carried side by side */

/* The states of some parameter sets, one component of all of them in a row. */
typedef struct {
    int components;
    double base[LANES];
    double gain[COMPONENTS_MOST][LANES], rate[COMPONENTS_MOST][LANES];
    double state[COMPONENTS_MOST][LANES], decay[COMPONENTS_MOST][LANES];
} Lanes;

static void lanes_start(Lanes *lanes, size_t used, const ResponseParams *params,
                        const Timeline *t) {
    for (size_t j = 0; j < LANES; j++) {
        const ResponseParams *p = &params[j < used ? j : 0];
        Components c = response_components(p);
        lanes->components = c.count;
        lanes->base[j] = p->value[PARAM_P0];
        for (int k = 0; k < c.count; k++) {
            lanes->gain[k][j] = c.item[k].gain;
            lanes->rate[k][j] = -1 / c.item[k].tau;
            lanes->state[k][j] =
                t->before * steady(c.item[k].tau, t->before_age);
            lanes->decay[k][j] = 1;
        }
    }
}

static void lanes_age(Lanes *lanes, double gap) {
    for (int k = 0; k < lanes->components; k++)
        for (size_t j = 0; j < LANES; j++)
            lanes->decay[k][j] = exp(gap * lanes->rate[k][j]);
}

/* One step of all lanes: decay, read, take up the load. */
static void lanes_step(Lanes *lanes, double load, ReadWhen when, double *out) {
    double add = when == READ_AFTER ? load : 0;
    for (size_t j = 0; j < LANES; j++)
        out[j] = lanes->base[j];
    for (int k = 0; k < lanes->components; k++) {
        double *state = lanes->state[k];
        const double *decay = lanes->decay[k], *gain = lanes->gain[k];
        for (size_t j = 0; j < LANES; j++) {
            double s = state[j] * decay[j];
            out[j] += gain[j] * (s + add);
            state[j] = s + load;
        }
    }
}

void kernel_batch(size_t sets, const ResponseParams *params, const Timeline *t,
                  ReadWhen when, double *readiness) {
    for (size_t from = 0; from < sets; from += LANES) {
        size_t used = sets - from < LANES ? sets - from : LANES;
        double last_gap = NAN, out[LANES];
        Lanes lanes;
        lanes_start(&lanes, used, params + from, t);
        for (size_t i = 0; i < t->steps; i++) {
            double gap = t->gap ? t->gap[i] : 1;
            if (i > 0 && gap != last_gap) {
                lanes_age(&lanes, gap);
                last_gap = gap;
            }
            lanes_step(&lanes, t->load[i], when, out);
            for (size_t j = 0; j < used; j++)
                readiness[i * sets + from + j] = out[j];
        }
    }
}

double kernel_influence(const ResponseParams *params, double age) {
    Components c = response_components(params);
    double sum = 0;
    if (age <= 0)
        return 0;
    for (int k = 0; k < c.count; k++)
        sum += c.item[k].gain * exp(-age / c.item[k].tau);
    return sum;
}
