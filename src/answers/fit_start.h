/* fit_start: what difference the training before the log makes to the answer.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_FIT_START_H
#define ANSWERS_FIT_START_H

#include "answers/athlete_fit.h"

/* The taper recommended by the athlete's tests when training before the log was
 * `before` [load/d]; false when the tests or the limits allow none. */
bool fit_start_recommended(const AthleteFit *f, double before, Option *option);

#endif
