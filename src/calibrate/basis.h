/* basis: what training has left at each test, for given time constants, and
 * how that changes with them.
 *
 * A test reads p0 + k1 F - k F2, where F and F2 depend on the time constants
 * only: the gains are linear. Here are F, F2 and their derivatives with respect
 * to the logarithms of the time constants, by the same recursions as the
 * kernel.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_BASIS_H
#define CALIBRATE_BASIS_H

#include "response/kernel.h"

#include <stddef.h>

/* Tests of one kind of one athlete. */
typedef struct {
    Timeline timeline; /* of the log */
    size_t count;
    size_t *step;   /* step of the timeline at which each is read, rising */
    ReadWhen *when; /* before or after that step's load */
    double *value;  /* higher is better: lower-better tests are negated */
    double *weight; /* 1/error^2, mean 1 */
    double error;   /* typical error, root mean square; NAN: not given */
    size_t fitted;  /* parameters already fitted to these tests: 1 when the
                       training before the log was, else 0 */
} TestData;

/* Time constants that shape a kind of model, in this order: tau1, tau2, then
 * tau_rise or tau3. */
enum { SHAPE_TAUS = 3 };

/* How many of them a kind has, and which they are. */
int basis_taus(ResponseKind kind, Param taus[SHAPE_TAUS]);
/* The gain of fatigue: PARAM_K2 or PARAM_K3; PARAMS if there is none. */
Param basis_fatigue_gain(ResponseKind kind);

/* Columns at each test. */
typedef struct {
    double *fitness, *fatigue; /* [load], [load] or [load^2] */
    double *slope[SHAPE_TAUS]; /* of fitness (tau1, tau_rise) or fatigue
                                  (tau2, tau3) by ln tau */
    bool slope_is_fitness[SHAPE_TAUS];
} Basis;

/* The arrays have room for data->count values. `slopes` asks for slopes. */
void basis_run(ResponseKind kind, const double taus[SHAPE_TAUS],
               const TestData *data, bool slopes, Basis *basis);
/* The same without slopes, to the last bit, for `count` rows of SHAPE_TAUS time
 * constants: a row of data->count values for each. A kind without fatigue
 * leaves its rows alone. */
void basis_many(ResponseKind kind, size_t count, const double *taus,
                const TestData *data, double *fitness, double *fatigue);
void basis_allocate(size_t count, Basis *basis);
void basis_free(Basis *basis);

#endif
