/* ceiling: the best sequence of daily loads within the limits, which no taper
 * can pass.
 *
 * Linear models: each day's cut by the sign of its drop; where rules or the
 * lowest of several days tie the days together, a linear programme (GLPK);
 * where sessions that must stay tie the days of full rest, a mixed-integer one.
 * Both are exact.
 *
 * Variable dose: readiness is quadratic in the cuts, and may have several
 * summits. From several starts it climbs by linear programmes on the gradient:
 * the vertices found so far are mixed by exact line searches (simplicial
 * decomposition; von Hohenbalken 1977, Math Program 13:49-68, from memory),
 * then single days and pairs of days are moved. Never worse than the cuts it
 * is given.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_CEILING_H
#define TAPER_CEILING_H

#include "base/status.h"
#include "taper/rules.h"
#include "taper/score.h"

/* `cut` (window long) holds cuts within the rules on entry, say those of the
 * best option, and the best ones afterwards. Fails when the programme does. */
StatusCode ceiling_find(const Score *score, const Rules *rules, double *cut,
                        double *readiness, Status *status);

#endif
