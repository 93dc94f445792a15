/* warnings: what of a case deserves a warning: a short log, gaps, a week unlike
 * those before, little base, events in each other's way.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_WARNINGS_H
#define CASES_WARNINGS_H

#include "cases/case.h"

/* What of a case deserves a warning. */
void warnings_add(Context *d, const Case *c);

/* Without training there is no fatigue to shed: said of whoever trained on few
 * of the log's last days. */
void warnings_of_base(const Daily *daily, const char *athlete, Notes *notes);

#endif
