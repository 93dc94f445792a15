/* descent: down a valley of a separable problem without slopes, by a pattern
 * search (Hooke, Jeeves 1961, J ACM 8:212-229; from memory) along all axes and
 * diagonals, with a jump to the bottom of the quadratic through the points
 * around where that is lower still.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_DESCENT_H
#define CALIBRATE_DESCENT_H

#include "calibrate/reduced.h"

/* Looks around at a distance, at first `first` along each axis (a logarithm),
 * and moves to where it is lower or looks closer, until the distance is no more
 * than `last`. */
void descent_run(const Reduced *w, const double *first, double last,
                 ReducedPoint *x);

/* To the bottom, as near as a step of 1e-4; nearer where a shape stands at its
 * bound below another. */
void descent_bottom(const Reduced *w, const double *first, ReducedPoint *x);

#endif
