/* polish: from near the bottom of a valley to its bottom. Levenberg-Marquardt
 * with the linear parameters left undamped, which is the projection of Kaufman
 * (1975, BIT 15:49-57; from memory), each step by QR; then Gauss-Newton in all
 * parameters for the last digits.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_POLISH_H
#define CALIBRATE_POLISH_H

#include "calibrate/reduced.h"

/* Ends when a step moves no parameter by more than 1e-13 of itself, or when
 * nothing gets better. */
void polish_run(const Reduced *w, ReducedPoint *x);

/* The last digits: plain Gauss-Newton steps as long as they do not lead away.
 */
void polish_finish(const Reduced *w, ReducedPoint *x);

#endif
