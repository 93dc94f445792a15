/* kernel: the impulse response. Pure: arrays in, arrays out; no allocation, no
 * I/O, no globals, no clock, no randomness.
 *
 * Each component is one state that decays by e^(-gap/tau) between steps and
 * takes up the load of each step. A step is a moment at which there may be a
 * session and at which readiness is read: just before the load (the sum to n-1
 * of Busso, Candau, Lacour 1994, Eur J Appl Physiol 69:50-54) or just after it
 * (the sum to n of Morton, Fitz-Clarke, Banister 1990, J Appl Physiol
 * 69:1171-1177). Daily loads are the case of a gap of 1 d at each step; a
 * reading without a session is a step with load 0.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef RESPONSE_KERNEL_H
#define RESPONSE_KERNEL_H

#include "response/params.h"

#include <stddef.h>

typedef enum { READ_BEFORE, READ_AFTER } ReadWhen;

typedef struct {
    size_t steps;
    const double *gap;  /* [d] since the step before, >= 0; gap[0] is not
                           used; NULL: 1 d each */
    const double *load; /* [load] taken up at each step */
    double before;      /* [load/d] steady training before the first step */
    double before_age;  /* [d] age at the first step of the last of those daily
                           loads; 1 for daily steps */
} Timeline;

/* What past training has left at some moment. */
typedef struct {
    double part[COMPONENTS_MOST]; /* [load] one state a component */
    double memory;  /* [load] of recent training, where fatigue grows
                       with it */
    double fatigue; /* [load^2] weighted by it */
} KernelState;

/* State at the first step, before its load: `before` a day for ever, the last
 * `age` days ago. */
void kernel_start(const ResponseParams *params, double before, double age,
                  KernelState *state);

/* Goes on from a state that stands at step `from`, before its load, and stops
 * before step `to`; the state then stands at step `to` if there is one.
 * Readings go to fitness[0] ... fitness[to - from - 1]. */
void kernel_go(const ResponseParams *params, const Timeline *timeline,
               size_t from, size_t to, ReadWhen when, KernelState *state,
               double *fitness, double *fatigue);

/* Fitness and fatigue at each step [readiness], both counted positive. */
void kernel_run(const ResponseParams *params, const Timeline *timeline,
                ReadWhen when, double *fitness, double *fatigue);

/* Readiness of `sets` parameter sets of one kind over one timeline, side by
 * side so that the compiler computes several at once:
 * readiness[step * sets + set]. Agrees with kernel_run() to 1e-12. */
void kernel_batch(size_t sets, const ResponseParams *params,
                  const Timeline *timeline, ReadWhen when, double *readiness);
/* The same, which also leaves the states before the load of a step of the
 * timeline in state[sets]. */
void kernel_batch_at(size_t sets, const ResponseParams *params,
                     const Timeline *timeline, ReadWhen when, double *readiness,
                     size_t step, KernelState *state);

/* Influence of a load `age` days old on readiness, per unit of load
 * [readiness/load] (Fitz-Clarke, Morton, Banister 1991, J Appl Physiol
 * 71:1151-1158). Zero for age <= 0: readings are before the day's load. Of
 * kinds whose fatigue grows with recent load: without what grows. */
double kernel_influence(const ResponseParams *params, double age);

/* The same of its components (response_components()), for many ages. */
double kernel_influence_of(const Components *components, double age);

#endif
