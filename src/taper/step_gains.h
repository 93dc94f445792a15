/* step_gains: what step tapers of one length gain under each draw, at any cut.
 *
 * A gain is a x + b x^2 in the cut x, also where fatigue's gain grows with
 * recent loads (taper/dose.h), so two cuts tell of all; of the lowest of
 * several days each cut is scored by itself.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_STEP_GAINS_H
#define TAPER_STEP_GAINS_H

#include "taper/score.h"

typedef struct {
    const DrawScores *scores;
    int days;           /* the length */
    double *half, *all; /* [readiness] of each draw at half and full cut */
    double *gain;       /* of each draw, for step_gains_spread() */
} StepGains;

/* The scores must outlive it; to be freed. */
void step_gains_start(const DrawScores *scores, StepGains *gains);
void step_gains_free(StepGains *gains);

/* From here on tapers of so many days. */
void step_gains_set(StepGains *gains, int days);

/* What the draws say of a cut [%]: the gain alone, readiness is NAN; all NAN
 * without draws. */
Spread step_gains_spread(StepGains *gains, double cut);

/* The share of draws that gain. */
double step_gains_helps(StepGains *gains, double cut);

#endif
