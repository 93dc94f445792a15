/* ridge: parameter sets that all fit the same tests and still disagree about a
 * taper.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_RIDGE_H
#define LESSONS_RIDGE_H

#include "calibrate/basis.h"
#include "calibrate/draws.h"

enum { BUNDLE_CURVES = 6 };

typedef struct {
    ResponseParams params;
    double misfit; /* [test] root mean square at the tests */
    double gain;   /* [test] of the taper, over none */
} BundleCurve;

typedef struct {
    size_t drawn, fitting; /* sets looked at, sets that fit */
    size_t count;          /* of those picked, by rising gain */
    BundleCurve curve[BUNDLE_CURVES];
} Bundle;

/* Picks, among the draws whose misfit is at most `error`, some evenly spread
 * over the gain of `taper` over `none`: two timelines that are read before
 * their last step. Where fewer than BUNDLE_CURVES fit: those that miss least.
 */
void bundle_pick(const Draws *draws, const TestData *data, double error,
                 const Timeline *none, const Timeline *taper, Bundle *bundle);

#endif
