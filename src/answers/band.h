/* band: readiness of one athlete at every step of an outlook under some cuts,
 * as expected over the draws and with their 5 to 95 % band.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_BAND_H
#define ANSWERS_BAND_H

#include "cases/case.h"

typedef struct {
    size_t steps, draws;
    double *mean;       /* [readiness] of each step; of the model itself where
                           there are no draws */
    double *low, *high; /* NAN without draws */
    double *all;        /* [steps * draws], of each step in order of size */
} Band;

/* `cut` as outlook_apply() takes it. */
void band_build(const Case *c, const Outlook *outlook, const double *cut,
                Band *course);
void band_free(Band *course);

#endif
