/* step_gains: what many tapers of one athlete gain under each draw: steps of
 * any length and cut, and other options.
 *
 * A gain is a x + b x^2 in the cut x, b being 0 unless fatigue's gain grows
 * with recent loads (taper/dose.h); a and b are sums over the days that are
 * cut. Of the lowest of several days each step is scored by itself. Of other
 * options what two days' cuts take away together (dose.h's bend) is a product
 * of the nearer day's own effect, both loads and what is remembered of the
 * farther one, so that one pass over the days adds it up.
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
    double *drop;  /* [readiness] drop[(u - 1) * draws + draw] of the day u
                      before, as taper/score.h has it; NULL with a and b */
    double *bend;  /* [readiness/load] the same: what the load left out then and
                      before, as far as it is remembered, takes away of it */
    double *kept;  /* the same: share of the load remembered from the day before
                      it */
    double *gain;  /* of each draw, the last that was asked for */
    double *left;  /* of each draw, while it is reckoned */
} StepGains;

/* The scores must outlive it; to be freed. */
void step_gains_start(const DrawScores *scores, StepGains *gains);
void step_gains_free(StepGains *gains);

/* What the draws say of so many days with a cut [%]: the gain alone, readiness
 * is NAN; all NAN without draws. */
Spread step_gains_spread(StepGains *gains, size_t days, double cut);

/* The same of any option, in a number of steps that grows with its days only.
 * Of the lowest of several days each draw is scored by itself. */
Spread step_gains_option(StepGains *gains, const Option *option);

/* The share of draws that gain. */
double step_gains_helps(StepGains *gains, size_t days, double cut);

#endif
