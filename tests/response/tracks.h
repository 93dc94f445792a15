/* tracks: parameters, random timelines, and the sums of the publications
 * written out, one term a load.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_RESPONSE_TRACKS_H
#define TESTS_RESPONSE_TRACKS_H

#include "response/kernel.h"

#include <gsl/gsl_rng.h>

enum { STEPS_MOST = 400 };

ResponseParams two(double p0, double k1, double k2, double tau1, double tau2);

ResponseParams one(double p0, double k1, double tau1);

/* Morton, Fitz-Clarke, Banister 1990 (M). */
ResponseParams classic(double p0);

ResponseParams any_params(gsl_rng *rng);

ResponseParams any_of_kind(gsl_rng *rng, ResponseKind kind);

ResponseParams random_any(gsl_rng *rng);

/* A timeline with its arrays. */
typedef struct {
    double gap[STEPS_MOST], load[STEPS_MOST];
    Timeline line;
} Track;

void random_track(gsl_rng *rng, size_t steps, Track *t);

double value_of(const ResponseParams *p, Param param);

/* The two sums written out, one term a load: fitness and fatigue at step i. */
typedef struct {
    double fitness, fatigue;
} Pair;

Pair direct(const ResponseParams *p, const Track *t, size_t i, ReadWhen when);

void readiness_of(const ResponseParams *p, const Timeline *line, ReadWhen when,
                  double *readiness);

/* Variable dose, Busso 2003's means (M), p0 250, values C; and the sum written
 * out. */
ResponseParams busso(double p0);

#endif
