/* joint_floor: the tapers before several events, held back so that the season
 * between them keeps enough training.
 *
 * The best of each window may leave so little load before a row of events that
 * nobody would train so. The floor asks that any 28 days hold a share of the
 * training planned between events: half, unless asked otherwise (our own).
 * Where the best ones break it, the longest tapers or the deepest cuts that
 * keep it are looked for, by halving, and the better of the two is taken; other
 * ways to keep it are not searched. Without weights (joint_run()) gains are 0.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_JOINT_FLOOR_H
#define ANSWERS_JOINT_FLOOR_H

#include "taper/joint.h"

typedef struct {
    bool holds_back; /* the tapers are not those without it */
    int max_length;  /* [d] of each taper; 0: not shortened */
    double max_cut;  /* [%]; 0: not made shallower */
    double gain;     /* weighted sum of the best tapers' readiness, over none */
    double lifted;   /* the same without the floor */
    double lowest;   /* smallest share of 28 days under the tapers taken */
    size_t from;     /* day of the outlooks with which they begin */
} JointFloor;

/* joint_run() with `share` of the planned training kept [1]; 0: no floor. Where
 * no taper can keep it, `lowest` stays below `share` and nothing holds back. */
StatusCode joint_floor_run(const JointEvent *events, size_t count,
                           const double *weight, const Limits *limits,
                           double share, Joint *joint, JointFloor *floor,
                           Status *status);

/* The limits within which it took the tapers. */
Limits joint_floor_limits(const JointFloor *floor, const Limits *limits);

#endif
