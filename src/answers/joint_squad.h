/* joint_squad: the tapers of a squad before each of several events, decided
 * together.
 *
 * As before one event (squad_tapers.h), athletes of one squad get as few common
 * tapers before each event as lose little, of the weighted sum that they are
 * searched for (taper/joint.h). What an option is worth before one event is
 * looked at while those before the others are the athlete's own best.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_JOINT_SQUAD_H
#define ANSWERS_JOINT_SQUAD_H

#include "cases/case.h"

/* Fills context->joint, by which joint_peaks_build() recommends. All athletes
 * of the season are searched, whoever was asked for. */
void joint_squad_decide(Context *context);

/* The context in which the tapers of one event are those decided: a copy, which
 * borrows all. */
Context joint_squad_of(const Context *context, const Event *event);

#endif
