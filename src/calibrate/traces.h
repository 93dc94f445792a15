/* traces: what past training has left at some moments, for any time constants.
 *
 * A table over ln tau of F(tau), the sum of past loads each times
 * e^(-age/tau), and another over (ln tau2, ln tau3) of V, the same sum with
 * each load times the memory M of loads up to it, divided by its mean
 * w/(1 - e^(-1/tau3)) at the mean daily load w (Busso 2003, Med Sci Sports
 * Exerc 35:1188-1195; from memory), so that F and V are both [load]. Between
 * nodes, Lagrange's cubic; off by some 1e-6 of F and 1e-4 of V at most.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_TRACES_H
#define CALIBRATE_TRACES_H

#include "response/kernel.h"

#include <stdbool.h>
#include <stddef.h>

/* A moment: at a step of the timeline, before or after its load. */
typedef struct {
    size_t step;
    ReadWhen when;
} Moment;

/* Of ln tau; none where low > high. */
typedef struct {
    double low, high;
} Span;

typedef struct {
    const Timeline *timeline;
    const Moment *moment;
    size_t count;
    Span tau;        /* of F */
    Span tau2, tau3; /* of V */
} TracesAsked;

typedef struct Traces Traces;

Traces *traces_build(const TracesAsked *asked);
void traces_free(Traces *traces);

/* Columns have room for so many values: as many as moments, and up to seven
 * more. */
size_t traces_room(const Traces *traces);
/* F or V at each moment. False when a time constant lies outside. */
bool traces_read(const Traces *traces, double log_tau, double *value);
bool traces_read_grown(const Traces *traces, double log_tau2, double log_tau3,
                       double *value);

/* Mean daily load of a timeline [load/d]. */
double traces_mean_load(const Timeline *timeline);

#endif
