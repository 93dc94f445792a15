/* landmarks: see landmarks.h. Closed forms where there are some; otherwise the
 * root or the maximum of the influence by bracketing (GSL, Brent).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/landmarks.h"

#include "response/kernel.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stddef.h>

static double positive(double t) {
    return t > 0 && isfinite(t) ? t : NAN;
}

static void two_component(const double *v, double ratio, Landmarks *marks) {
    double scale =
        v[PARAM_TAU1] * v[PARAM_TAU2] / (v[PARAM_TAU1] - v[PARAM_TAU2]);
    marks->t_n = positive(scale * log(ratio));
    marks->t_g = positive(scale * log(v[PARAM_TAU1] / v[PARAM_TAU2] * ratio));
}

static double influence(double age, void *params) {
    return kernel_influence(params, age);
}

/* Slope of the influence [readiness/load/d]. */
static double slope(double age, void *params) {
    Components c = response_components(params);
    double sum = 0;
    for (int k = 0; k < c.count; k++)
        sum -= c.item[k].gain / c.item[k].tau * exp(-age / c.item[k].tau);
    return sum;
}

/* The last age at which `function` changes its sign the way asked for; NAN if
 * there is none. Looks at every 1/8 d up to ten time constants. */
static double last_change(double (*function)(double, void *), void *params,
                          double farthest, int from_sign) {
    gsl_function f = {function, params};
    gsl_root_fsolver *solver;
    double step = .125, low = NAN, root = NAN;
    for (double age = farthest; age > step; age -= step)
        if (function(age, params) * from_sign < 0 &&
            function(age - step, params) * from_sign >= 0) {
            low = age - step;
            break;
        }
    if (!isfinite(low))
        return NAN;
    solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return NAN;
    if (gsl_root_fsolver_set(solver, &f, fmax(low, 1e-9), low + step) ==
        GSL_SUCCESS) {
        for (int i = 0; i < 100; i++)
            gsl_root_fsolver_iterate(solver);
        root = gsl_root_fsolver_root(solver);
    }
    gsl_root_fsolver_free(solver);
    return root;
}

static void delayed(const ResponseParams *p, Landmarks *marks) {
    ResponseParams copy = *p;
    double farthest = 10 * p->value[PARAM_TAU1];
    marks->t_n = last_change(influence, &copy, farthest, -1);
    marks->t_g = last_change(slope, &copy, farthest, 1);
}

Landmarks landmarks_of(const ResponseParams *p) {
    const double *v = p->value;
    Landmarks marks = {v[PARAM_TAU1] * log(2), NAN, NAN, NAN};
    if (response_has(p->kind, PARAM_TAU2))
        marks.half_life_fatigue = v[PARAM_TAU2] * log(2);
    if (p->kind == RESPONSE_TWO_COMPONENT)
        two_component(v, v[PARAM_K2] / v[PARAM_K1], &marks);
    if (p->kind == RESPONSE_GRADED)
        two_component(v, v[PARAM_RATIO], &marks);
    if (p->kind == RESPONSE_DELAYED)
        delayed(p, &marks);
    return marks;
}
