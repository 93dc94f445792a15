/* step_gains: what step tapers gain under each draw, of any length and cut.
 *
 * A gain is a x + b x^2 in the cut x, b being 0 unless fatigue's gain grows
 * with recent loads (taper/dose.h); a and b are sums over the days that are
 * cut. Of the lowest of several days each step is scored by itself.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_STEP_GAINS_H
#define TAPER_STEP_GAINS_H

#include "taper/score.h"

typedef struct {
    const DrawScores *scores;
    size_t window; /* [d] */
    double *a, *b; /* [readiness] a[days * draws + draw], from 0 days on; NULL:
                      scored by themselves */
    double *gain;  /* of each draw, the last that was asked for */
} StepGains;

/* The scores must outlive it; to be freed. */
void step_gains_start(const DrawScores *scores, StepGains *gains);
void step_gains_free(StepGains *gains);

/* What the draws say of so many days with a cut [%]: the gain alone, readiness
 * is NAN; all NAN without draws. */
Spread step_gains_spread(StepGains *gains, size_t days, double cut);

/* The share of draws that gain. */
double step_gains_helps(StepGains *gains, size_t days, double cut);

#endif
