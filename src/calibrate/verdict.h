/* verdict: does training move the tests? Bayes factors of the family against a
 * level that nothing moves, errors taken as normal: weights that were learned
 * while training moves the readings are no judges of whether it does.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_VERDICT_H
#define CALIBRATE_VERDICT_H

#include "calibrate/asked.h"

/* ln of the Bayes factor of all tests together; that of each kind of test alone
 * into kind_bayes[kinds]. */
double verdict_bayes(Trail *trail, double *kind_bayes);

#endif
