/* joint_record: a plan handed out for several events, looked at anew: what it
 * still brings them together, what a new one would, and what the taper for one
 * of them alone would cost the others.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_JOINT_RECORD_H
#define ANSWERS_JOINT_RECORD_H

#include "answers/joint_peaks.h"

/* Events to come of an athlete's plan handed out, if it weighs two or more of
 * them; 0: it does not, or there is none. `name` has room for all events. */
size_t joint_record_events(const Context *context, size_t athlete,
                           const char **name);

/* What the plan handed out, for one event or several, would bring at those that
 * are weighed. */
void joint_record_look(JointPeaks *peaks);

/* Fills context->weighed for the athletes asked for, where one has such a plan;
 * after squad_tapers_decide(). */
void joint_record_find(Context *context);

#endif
