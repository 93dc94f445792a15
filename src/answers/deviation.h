/* deviation: what it costs to deviate from the recommended taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_DEVIATION_H
#define ANSWERS_DEVIATION_H

#include "answers/best_taper.h"

/* How the gain of the recommended taper changes, as a share of it, when its
 * longest part is so many days longer (or shorter) and each cut so many points
 * larger (or smaller); NAN: there is no such taper within the limits. */
double deviation_change(const BestTaper *v, int days, double points);

#endif
