/* params: see params.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "response/params.h"

#include <stddef.h>

const char *const param_names[] = {"p0",       "k1", "k2",   "tau1", "tau2",
                                   "tau_rise", "k3", "tau3", NULL};

const char *const response_kind_names[] = {"two-component", "one-component",
                                           NULL};

bool response_has(ResponseKind kind, Param param) {
    static const bool has[RESPONSE_KINDS][PARAMS] = {
        [RESPONSE_TWO_COMPONENT] = {[PARAM_P0] = true,
                                    [PARAM_K1] = true,
                                    [PARAM_K2] = true,
                                    [PARAM_TAU1] = true,
                                    [PARAM_TAU2] = true},
        [RESPONSE_ONE_COMPONENT] =
            {[PARAM_P0] = true, [PARAM_K1] = true, [PARAM_TAU1] = true},
    };
    return has[kind][param];
}

Components response_components(const ResponseParams *p) {
    Components c = {.count = 1, .fitness = 1};
    c.item[0] = (Component){p->value[PARAM_K1], p->value[PARAM_TAU1]};
    if (p->kind == RESPONSE_TWO_COMPONENT) {
        c.item[1] = (Component){-p->value[PARAM_K2], p->value[PARAM_TAU2]};
        c.count = 2;
    }
    return c;
}
