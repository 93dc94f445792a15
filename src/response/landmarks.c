/* landmarks: see landmarks.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/landmarks.h"

#include <math.h>

static double positive(double t) {
    return t > 0 && isfinite(t) ? t : NAN;
}

Landmarks landmarks_of(const ResponseParams *p) {
    const double *v = p->value;
    double ratio = v[PARAM_K2] / v[PARAM_K1];
    double scale =
        v[PARAM_TAU1] * v[PARAM_TAU2] / (v[PARAM_TAU1] - v[PARAM_TAU2]);
    Landmarks marks = {v[PARAM_TAU1] * log(2), NAN, NAN, NAN};
    if (!response_has(p->kind, PARAM_TAU2))
        return marks;
    marks.half_life_fatigue = v[PARAM_TAU2] * log(2);
    marks.t_n = positive(scale * log(ratio));
    marks.t_g = positive(scale * log(v[PARAM_TAU1] / v[PARAM_TAU2] * ratio));
    return marks;
}
