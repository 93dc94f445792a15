/* changed_days: loads that are said to be otherwise than in the files.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_CHANGED_DAYS_H
#define CASES_CHANGED_DAYS_H

#include "cases/case.h"

/* Logged days are replaced; the usual week knows of the days to come. */
void changed_days_apply(Context *d, Case *c);

#endif
