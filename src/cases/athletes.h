/* athletes: which athletes are asked for.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_ATHLETES_H
#define CASES_ATHLETES_H

#include "cases/case.h"

void athletes_choose(Context *d);

/* Their order is that of athletes.csv, then of the names: it does not hang on
 * the order of the log's rows. */
void athletes_choose_part(Context *d);

bool athletes_have_log(Context *d, size_t athlete);

#endif
