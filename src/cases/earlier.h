/* earlier: what is taken to be done before a later event when others lie on the
 * way to it: their tapers, and recovery on the day after them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_EARLIER_H
#define CASES_EARLIER_H

#include "cases/case.h"

/* Is an event to come one that an athlete takes part in before another? */
bool earlier_lies_before(const Season *season, size_t athlete,
                         const Event *event, const Event *later);

/* Does the plan handed out, of a day before today, tell of the way to an
 * event? */
bool earlier_is_handed(const Context *context, size_t athlete,
                       const Event *event);

/* Where the question names an event, or weighs several, and others lie before
 * it: the usual days of the case until then are those of the plan handed out,
 * if it tells of them, else those of context->earlier; the day after each is
 * for recovery, and of it stays only what may not be cut (common practice, no
 * source). So it is behind an event that is under way or ends today, whatever
 * the question names. */
void earlier_apply(const Context *context, Case *c);

/* Is a day to come left free for recovery, the day after an event? */
bool earlier_recovers(const Case *c, Date date);

/* Leaves out of the usual days before an event what a taper cuts, or shares
 * cut[u - 1] of the days u before it. The case is one of earlier_apply(). */
void earlier_taper(Usual *usual, const Event *event, const Option *option);
void earlier_cuts(Usual *usual, const Event *event, const double *cut,
                  size_t window);

#endif
