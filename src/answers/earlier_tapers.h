/* earlier_tapers: the tapers before events on the way to the one asked for.
 *
 * Whoever plans for the later of two events is taken to carry out what is
 * recommended for the earlier, or the plan handed out for it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_EARLIER_TAPERS_H
#define ANSWERS_EARLIER_TAPERS_H

#include "cases/case.h"

/* Fills context->earlier, event by event, each knowing those before it; nothing
 * where no event is named. The list is the caller's to free. Tests must have
 * been heard. */
EarlierTaper *earlier_tapers_find(Context *context);

/* "before it Regional cup, with its taper (3d-100) and a recovery day.",
 * appended for all; nothing without events on the way. */
void earlier_tapers_words(const Case *c, Text *text);

#endif
