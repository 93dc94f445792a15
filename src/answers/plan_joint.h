/* plan_joint: one plan for several events weighed together.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_PLAN_JOINT_H
#define ANSWERS_PLAN_JOINT_H

#include "answers/joint_peaks.h"
#include "answers/plan.h"

typedef struct {
    Plan plan;
    Case last; /* the case on the way to the last event, which the plan knows */
    Context context; /* of it: what is assigned before that event */
} PlanJoint;

/* Event after event: the days before each have its taper, those after the one
 * before begin with recovery. The case's usual days take up the tapers. Must
 * not be moved. */
StatusCode plan_joint_make(const Case *c, const JointPeaks *peaks, PlanJoint *j,
                           Status *status);
void plan_joint_free(PlanJoint *j);

#endif
