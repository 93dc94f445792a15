/* projection: the least-squares fit of a separable problem by variable
 * projection: the level and the gains are solved for in closed form at each set
 * of shapes (reduced.h). A grid over the logarithms of the shapes finds every
 * valley (valleys.h); a pattern search goes down each (descent.h), and damped
 * steps follow it to its bottom (polish.h). The smallest residual sum of all
 * valleys is the answer, so that it is the global one. How well it is known is
 * for jacobian.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_PROJECTION_H
#define CALIBRATE_PROJECTION_H

#include "calibrate/separable.h"

/* The least-squares fit. Needs at least one row; `errors` asks for covariance
 * and condition. */
void projection_run(const Separable *problem, bool errors, SeparableFit *fit);

/* Smallest weighted residual sum at given shapes; INFINITY outside the bounds.
 */
double projection_rss_at(const Separable *problem, const double *shape);

#endif
