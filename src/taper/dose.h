/* dose: what cuts do to readiness where fatigue grows with recent load (the
 * variable-dose and graded kinds).
 *
 * What grows of fatigue at a reading is k3 times the sum over loads w(i) of
 * w(i) E2(i) M(i), with E2(i) = e^(-age/tau2) and M(i) the loads up to and with
 * w(i), each weighted by e^(-(age between)/tau3) (Busso 2003, Med Sci Sports
 * Exerc 35:1188-1195; numbers from memory). That is quadratic in the loads, so
 * leaving out cut(u) of what day u may lose changes readiness by exactly
 *
 *     - sum cut(u) drop(u) - sum over v >= u of cut(u) cut(v) bend(u, v).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_DOSE_H
#define TAPER_DOSE_H

#include "taper/outlook.h"

/* Adds `weight` times drop[u - 1] and bend[(u - 1) * window + v - 1], v >= u,
 * of the reading on event day `e` [readiness]. `work` holds
 * dose_work() values. */
typedef struct {
    const Outlook *outlook;
    const ResponseParams *params;
    size_t e;
    double weight;
    double *drop, *bend;
    double *work;
    const KernelState *start; /* at outlook_start(); NULL: not known */
} DoseEffect;

size_t dose_work(const Outlook *outlook);
void dose_add(const DoseEffect *effect);

/* Change of readiness under cuts, of which only the first `days` are not 0. */
double dose_change(size_t window, const double *drop, const double *bend,
                   const double *cut, size_t days);

#endif
