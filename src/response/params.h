/* params: the parameters of a response model and its kinds.
 *
 * Readiness p(t) = p0 + fitness - fatigue. A session with load w at time s
 * adds, for t > s, k1 w e^(-(t-s)/tau1) to fitness and k2 w e^(-(t-s)/tau2) to
 * fatigue (Banister, Calvert, Savage, Bach 1975, Aust J Sports Med 7:57-61;
 * from memory). The one-component kind has no fatigue.
 *
 * The graded kind has a gain of fatigue of which a share g grows with recent
 * load (Busso 2003, Med Sci Sports Exerc 35:1188-1195, is g = 1): for a session
 * on day i it is k1 ratio [(1 - g) + g M(i)/mean of M], M(i) the loads up to
 * and with that session's, each weighted by e^(-age/tau3), whose mean is w/(1 -
 * e^(-1/tau3)) for an athlete's mean daily load w. So nothing in it hangs on
 * the unit of load. response_settle() turns ratio and growth into the k2 and k3
 * of one athlete: a gain k2 + k3 M(i).
 *
 * Every linear kind is a sum of exponentials, so the rest of the program works
 * on the Components of a model and never asks for its kind.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef RESPONSE_PARAMS_H
#define RESPONSE_PARAMS_H

#include <stdbool.h>

typedef enum {
    RESPONSE_TWO_COMPONENT, /* Banister 1975 */
    RESPONSE_ONE_COMPONENT, /* no fatigue */
    RESPONSE_DELAYED,       /* Calvert 1976 */
    RESPONSE_VARIABLE_DOSE, /* Busso 2003 */
    RESPONSE_GRADED,        /* between two-component and variable-dose */
    RESPONSE_KINDS
} ResponseKind;

typedef enum {
    PARAM_P0,       /* [readiness] level without training */
    PARAM_K1,       /* [readiness/load] gain of fitness */
    PARAM_K2,       /* [readiness/load] gain of fatigue */
    PARAM_TAU1,     /* [d] time constant of fitness */
    PARAM_TAU2,     /* [d] time constant of fatigue */
    PARAM_TAU_RISE, /* [d] build-up of fitness */
    PARAM_K3,       /* [readiness/load^2] gain of fatigue per past load */
    PARAM_TAU3,     /* [d] memory of past load in the gain of fatigue */
    PARAM_RATIO,    /* gain of fatigue for one of fitness, at the mean load */
    PARAM_GROWTH,   /* share of it that grows with recent load, 0 to 1 */
    PARAMS
} Param;

/* "p0", "k1", ...; ends with NULL. */
extern const char *const param_names[];
/* "two-component", ...; ends with NULL. */
extern const char *const response_kind_names[];

typedef struct {
    ResponseKind kind;
    double value[PARAMS]; /* NAN: the kind has no such parameter */
} ResponseParams;

/* Does a kind have a parameter? */
bool response_has(ResponseKind kind, Param param);

/* Sets k2 and k3 of a graded model for an athlete's mean daily load [load/d]:
 * k2 = k1 ratio (1 - growth), k3 = k1 ratio growth (1 - e^(-1/tau3))/mean; with
 * a mean of 0 nothing grows. Other kinds stay as they are. The kernel asks for
 * settled parameters. */
void response_settle(ResponseParams *params, double mean_load);

/* Is readiness a sum over the loads, each with an influence of its own? */
bool response_linear(ResponseKind kind);

/* One exponential: a load w adds gain w e^(-t/tau). */
typedef struct {
    double gain; /* [readiness/load] negative for fatigue */
    double tau;  /* [d] */
} Component;

enum { COMPONENTS_MOST = 3 };

typedef struct {
    Component item[COMPONENTS_MOST];
    int count;
    int fitness; /* the first so many make up fitness, the others fatigue */
} Components;

/* Of a linear kind; of the others without the fatigue that grows. */
Components response_components(const ResponseParams *params);

#endif
