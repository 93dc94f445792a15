/* params: see params.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/params.h"

#include <math.h>
#include <stddef.h>

const char *const param_names[] = {"p0",    "k1",       "k2", "tau1",
                                   "tau2",  "tau_rise", "k3", "tau3",
                                   "ratio", "growth",   NULL};

const char *const response_kind_names[] = {"two-component", "one-component",
                                           "delayed",       "variable-dose",
                                           "graded",        NULL};

bool response_has(ResponseKind kind, Param param) {
    static const bool has[RESPONSE_KINDS][PARAMS] = {
        [RESPONSE_TWO_COMPONENT] = {[PARAM_P0] = true,
                                    [PARAM_K1] = true,
                                    [PARAM_K2] = true,
                                    [PARAM_TAU1] = true,
                                    [PARAM_TAU2] = true},
        [RESPONSE_ONE_COMPONENT] =
            {[PARAM_P0] = true, [PARAM_K1] = true, [PARAM_TAU1] = true},
        [RESPONSE_DELAYED] = {[PARAM_P0] = true,
                              [PARAM_K1] = true,
                              [PARAM_K2] = true,
                              [PARAM_TAU1] = true,
                              [PARAM_TAU2] = true,
                              [PARAM_TAU_RISE] = true},
        [RESPONSE_VARIABLE_DOSE] = {[PARAM_P0] = true,
                                    [PARAM_K1] = true,
                                    [PARAM_TAU1] = true,
                                    [PARAM_TAU2] = true,
                                    [PARAM_K3] = true,
                                    [PARAM_TAU3] = true},
        [RESPONSE_GRADED] = {[PARAM_P0] = true,
                             [PARAM_K1] = true,
                             [PARAM_TAU1] = true,
                             [PARAM_TAU2] = true,
                             [PARAM_TAU3] = true,
                             [PARAM_RATIO] = true,
                             [PARAM_GROWTH] = true},
    };
    return has[kind][param];
}

void response_settle(ResponseParams *p, double mean) {
    double *v = p->value, gain = v[PARAM_K1] * v[PARAM_RATIO];
    if (p->kind != RESPONSE_GRADED)
        return;
    v[PARAM_K2] = gain * (1 - v[PARAM_GROWTH]);
    v[PARAM_K3] =
        mean > 0 ? -gain * v[PARAM_GROWTH] * expm1(-1 / v[PARAM_TAU3]) / mean
                 : 0;
}

bool response_linear(ResponseKind kind) {
    return kind != RESPONSE_VARIABLE_DOSE && kind != RESPONSE_GRADED;
}

Components response_components(const ResponseParams *p) {
    const double *v = p->value;
    Components c = {.count = 1, .fitness = 1};
    c.item[0] = (Component){v[PARAM_K1], v[PARAM_TAU1]};
    if (p->kind == RESPONSE_DELAYED) {
        c.item[c.count++] = (Component){-v[PARAM_K1], v[PARAM_TAU_RISE]};
        c.fitness = 2;
    }
    if (response_has(p->kind, PARAM_K2) || p->kind == RESPONSE_GRADED)
        c.item[c.count++] = (Component){-v[PARAM_K2], v[PARAM_TAU2]};
    return c;
}
