/* build: a case from the season: daily loads, usual week, event, outlook,
 * model.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_BUILD_H
#define CASES_BUILD_H

#include "cases/case.h"

#include <stdbool.h>

/* True when the case can be computed with. */
bool build_case(Context *d, size_t athlete, Case *c);

#endif
