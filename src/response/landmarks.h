/* landmarks: the days that describe a model.
 *
 * t_n: the last day before an event on which a load still lowers readiness at
 * the event; t_g: the day on which it raises it most.
 * t_n = tau1 tau2/(tau1 - tau2) ln(k2/k1),
 * t_g = tau1 tau2/(tau1 - tau2) ln(tau1 k2/(tau2 k1))
 * (Fitz-Clarke, Morton, Banister 1991, J Appl Physiol 71:1151-1158; from
 * memory). For the delayed kind they are found numerically. A variable-dose
 * model has none: how long training tires depends on how much of it there is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef RESPONSE_LANDMARKS_H
#define RESPONSE_LANDMARKS_H

#include "response/params.h"

typedef struct {
    double half_life_fitness; /* [d] tau1 ln 2 */
    double half_life_fatigue; /* [d] tau2 ln 2; NAN without fatigue */
    double t_n;               /* [d] NAN: a load never lowers readiness */
    double t_g;               /* [d] NAN: the gain is largest at once */
} Landmarks;

Landmarks landmarks_of(const ResponseParams *params);

#endif
