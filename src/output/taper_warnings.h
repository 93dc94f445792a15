/* taper_warnings: plain sentences on what is peculiar to searches, and what was
 * searched.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_TAPER_WARNINGS_H
#define OUTPUT_TAPER_WARNINGS_H

#include "answers/best_taper.h"
#include "present/document.h"

/* What is peculiar to these answers, as items: a gain beyond published
 * experience, no gain at all, few days left, a build-up. */
void taper_warnings(const BestTaper *const *v, size_t count, Document *doc);

/* What an athlete's own sheet says of their absences, appended. */
void taper_warnings_absences(const Case *c, Text *text);

/* What was searched, tapers of up to `longest` days, and whether the limits are
 * the default ones. */
void taper_warnings_searched(const Case *c, size_t longest, Document *doc);

#endif
