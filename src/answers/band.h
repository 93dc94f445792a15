/* band: readiness of one athlete at every step of an outlook under some cuts,
 * as expected over the draws and with their 5 to 95 % band. Whatever shows the
 * readiness of a day shows this mean; the scores of tapers (draw_scores_mean())
 * are the same mean by prefix sums.
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
                ReadWhen when, Band *band);
void band_free(Band *band);

/* Readiness expected on the last logged day, before its sessions. */
double band_today(const Case *c);

/* What readiness without its level is made of, as expected over the draws, at
 * every step of a timeline of the outlook [readiness]. */
void band_parts(const Case *c, const Timeline *timeline, ReadWhen when,
                double *fitness, double *fatigue);

#endif
