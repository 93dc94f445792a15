/* next: which day for the next test is worth most to the choice of a taper?
 *
 * For a test on a given day the outcome is simulated from the draws, the draws
 * are weighted by what it would say, and the option with the largest mean gain
 * under those weights is taken (expected value of sample information: Raiffa,
 * Schlaifer 1961, Applied Statistical Decision Theory; from memory).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_NEXT_H
#define CALIBRATE_NEXT_H

#include "calibrate/posterior.h"

/* gain[option * draws + draw] of the options to choose from, one of them no
 * taper. */
typedef struct {
    size_t options;
    const double *gain;
} Choice;

/* Expected gain of the option chosen after a test whose reading under each draw
 * is reading[], less that of the best one now [unit of gain]; 0 or more. */
double next_worth(const Posterior *posterior, const double *reading,
                  const Choice *choice);

#endif
