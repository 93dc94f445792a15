/* valleys: where a separable problem's residual sum is lower than all around,
 * on a grid over the logarithms of its shapes, evenly between their bounds.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_VALLEYS_H
#define CALIBRATE_VALLEYS_H

#include "calibrate/reduced.h"

enum { VALLEYS_MOST = 12 };

/* The lowest valleys, best first, at most VALLEYS_MOST, with their shapes and
 * residual sums alone; returns how many. `step` [SEPARABLE_SHAPES] becomes the
 * distance of the grid's points along each axis, a logarithm. */
size_t valleys_find(const Reduced *w, double *step, ReducedPoint *valley);

#endif
