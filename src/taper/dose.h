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

/* bend(u, v) is own(u) own(v) k3 E2(u) e^(-(age between)/tau3), so what a day
 * bends is told by turn(u) = own(u) k3 E2(u) and by kept(u), what is left of a
 * load's memory from the day before it. Adds `weight` times drop and turn of
 * the reading on event day `e`, and sets kept, each at [(u - 1) * stride].
 * `work` holds dose_work() values. */
typedef struct {
    const Outlook *outlook;
    const ResponseParams *params;
    size_t e;
    double weight;
    double *drop; /* [readiness] */
    double *turn; /* [readiness/load] */
    double *kept;
    size_t stride;
    double *work;
    const KernelState *start; /* at outlook_start() */
} DoseEffect;

size_t dose_work(const Outlook *outlook);
void dose_add(const DoseEffect *effect);

/* Change of readiness under cuts, of which only the first `days` are not 0. */
double dose_change(size_t window, const double *drop, const double *bend,
                   const double *cut, size_t days);

#endif
