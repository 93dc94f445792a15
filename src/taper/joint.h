/* joint: the tapers before several events of one athlete, for the largest
 * weighted sum of readiness at them.
 *
 * Each taper lies between its event and the one before. In linear models
 * readiness at every event is a sum over the days before, so the windows do not
 * touch each other: what a day is worth is the weighted sum of what it is worth
 * to all events still to come, and the best of each window is found by itself,
 * exactly. In a variable-dose model what one window's cuts are worth depends on
 * the others' (taper/dose.h): each is searched in turn with the others as they
 * stand until none changes, from several starts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_JOINT_H
#define TAPER_JOINT_H

#include "taper/search.h"

/* One of the events, in order of time; all of one athlete. */
typedef struct {
    Outlook own;  /* its window begins behind the event before */
    Outlook wide; /* the same, its window begins after today */
    Score score;  /* on the wide one, for an aim that is a sum of days */
} JointEvent;

/* The tapers before each event. */
typedef struct {
    Option *best;
    Option *recommended; /* each keeps the most training among those within 5 %
                            of its window's best */
    size_t count;
} Joint;

/* Both outlooks of an event; the score is the caller's to build on `wide`. */
void joint_event_build(const Usual *usual, const Daily *daily,
                       const Event *event, double before, JointEvent *joint);
void joint_event_free(JointEvent *joint);

/* `weight` holds one weight an event, 0 or more; NULL: nothing is known that
 * could be weighed, so each event has the gentle end of the published band
 * (taper/common.h). Fails when the search does. */
StatusCode joint_run(const JointEvent *events, size_t count,
                     const double *weight, const Limits *limits, Joint *joint,
                     Status *status);
void joint_free(Joint *joint);

/* The same for each event as if it alone mattered; joints[k] are the tapers up
 * to event k. */
StatusCode joint_run_alone(const JointEvent *events, size_t count,
                           const Limits *limits, Joint *joints, Status *status);

/* Of each event every option within the limits, with what it adds to the
 * weighted sum while the others are as `options` say; without weights nothing.
 * lists[count], all zero before. Fails when the search does. */
StatusCode joint_lists(const JointEvent *events, size_t count,
                       const double *weight, const Limits *limits,
                       const Option *options, Search *lists, Status *status);

/* Cuts of the days before one event, cut[u - 1] for the day u before (the wide
 * window long), under one option an event. */
void joint_cuts(const JointEvent *events, size_t at, const Option *options,
                double *cut);

enum { JOINT_SPELL = 28 /* [d] */ };
/* The smallest share of the load planned between the events that any
 * JOINT_SPELL days before the last one keep under one option an event, and the
 * day of the outlooks with which they begin; 1 where there are fewer days. */
double joint_lowest(const JointEvent *events, size_t count,
                    const Option *options, size_t *from);

/* Readiness that counts at one event under one option an event. */
double joint_readiness(const JointEvent *events, size_t at,
                       const Option *options);

#endif
