/* dose: see dose.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/dose.h"

#include <math.h>

/* e^(-gap/tau); most gaps are alike. */
typedef struct {
    double tau, gap, value;
} Decay;

static double decay(Decay *d, double gap) {
    if (gap != d->gap) {
        d->gap = gap;
        d->value = exp(-gap / d->tau);
    }
    return d->value;
}

static Decay decay_of(double tau) {
    return (Decay){tau, 0, 1};
}

/* Steps from the window's first to the reading, and what the formula needs at
 * each: E2, M, and S(i), the sum over k >= i of w(k) E2(k) e^(-(k - i)/tau3).
 */
typedef struct {
    size_t from, to;
    double *e2, *memory, *later;
} Steps;

size_t dose_work(const Outlook *o) {
    return 3 * o->timeline.steps;
}

static double gap_at(const Timeline *t, size_t step) {
    return t->gap ? t->gap[step] : 1;
}

static double memory_at(const DoseEffect *d, size_t step) {
    const Timeline *t = &d->outlook->timeline;
    Decay m = decay_of(d->params->value[PARAM_TAU3]);
    KernelState state;
    kernel_start(d->params, t->before, t->before_age, &state);
    if (d->start)
        state = *d->start;
    for (size_t i = d->start ? outlook_start(d->outlook) : 0; i < step; i++)
        state.memory =
            (state.memory + t->load[i]) * decay(&m, gap_at(t, i + 1));
    return state.memory;
}

static Steps look_at_steps(const DoseEffect *d) {
    const Outlook *o = d->outlook;
    const Timeline *t = &o->timeline;
    Decay e2 = decay_of(d->params->value[PARAM_TAU2]);
    Decay m = decay_of(d->params->value[PARAM_TAU3]);
    Steps s = {.from = o->load_step[o->event_day - o->window],
               .to = o->read_step[o->event_day + d->e],
               .e2 = d->work,
               .memory = d->work + t->steps,
               .later = d->work + 2 * t->steps};
    Decay back = m;
    double memory = memory_at(d, s.from), left = 1, later = 0;
    /* forwards and backwards at once: neither waits for the other */
    for (size_t i = s.from, k = s.to; i < s.to; i++) {
        if (i > s.from)
            memory *= decay(&m, gap_at(t, i));
        memory += t->load[i];
        s.memory[i] = memory;
        left *= decay(&e2, gap_at(t, k--));
        s.e2[k] = left;
        later *= k + 1 < s.to ? decay(&back, gap_at(t, k + 1)) : 0;
        later += t->load[k] * left;
        s.later[k] = later;
    }
    return s;
}

void dose_add(const DoseEffect *d) {
    const Outlook *o = d->outlook;
    double k3 = d->params->value[PARAM_K3];
    double read = o->read_time[o->event_day + d->e];
    Components linear = response_components(d->params);
    Decay m = decay_of(d->params->value[PARAM_TAU3]);
    Steps s;
    if (o->window == 0)
        return;
    s = look_at_steps(d);
    for (size_t u = 1; u <= o->window; u++) {
        size_t day = o->event_day - u, i = o->load_step[day];
        size_t at = (u - 1) * d->stride;
        double load = d->weight * o->cuttable[day];
        double fatigue = k3 * (s.e2[i] * s.memory[i] + s.later[i]);
        if (u < o->window)
            d->kept[at] = decay(&m, o->load_time[day] - o->load_time[day - 1]);
        if (load == 0)
            continue;
        d->drop[at] +=
            load *
            (kernel_influence_of(&linear, read - o->load_time[day]) - fatigue);
        d->turn[at] += k3 * load * s.e2[i];
    }
}

double dose_change(size_t window, const double *drop, const double *bend,
                   const double *cut, size_t days) {
    double change = 0;
    for (size_t u = 0; u < days; u++) {
        double sum = drop[u];
        if (cut[u] == 0)
            continue;
        for (size_t v = u; v < days; v++)
            sum += cut[v] * bend[u * window + v];
        change -= cut[u] * sum;
    }
    return change;
}
