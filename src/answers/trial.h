/* trial: how many athletes a trial needs.
 *
 * Two groups of equal size, a two-sided t test at 5 %, the power from the
 * noncentral t distribution, its far tail left out (as in R's power.t.test,
 * whose values are in the tests).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_TRIAL_H
#define ANSWERS_TRIAL_H

/* Chance to see a difference of `effect` SDs with `n` >= 2 athletes a group. */
double trial_power(double effect, double n);

/* Fewest athletes a group for a power of `power`; NAN when over a million. */
double trial_size(double effect, double power);

#endif
