/* week_limits: the limits that bear on the usual week itself: no gym on the
 * last days, and the kinds of sessions that may be cut.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_WEEK_LIMITS_H
#define CASES_WEEK_LIMITS_H

#include "cases/case.h"

/* Puts --no-gym and --cut-kinds into the case's usual week; what contradicts
 * them (week.csv, or its absence) is an error note, days without gym for whom
 * no session is one a warning. */
void week_limits_apply(Context *d, Case *c);

#endif
