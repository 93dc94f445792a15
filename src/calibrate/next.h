/* next: which day for the next test would tell most?
 *
 * For a test on a given day the outcome is simulated from the draws, the draws
 * are weighted by what it would say, and the width of the 5-95 % interval of a
 * quantity under those weights is averaged over outcomes.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_NEXT_H
#define CALIBRATE_NEXT_H

#include "calibrate/posterior.h"

/* Expected width of the interval of quantity[] (one value a draw) after a test
 * whose reading under each draw is reading[]; as a share of the width now. */
double next_narrowing(const Posterior *posterior, const double *reading,
                      const double *quantity);

#endif
