/* joint_peaks: all events to come of one athlete, weighed against each other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_JOINT_PEAKS_H
#define ANSWERS_JOINT_PEAKS_H

#include "answers/joint_floor.h"
#include "cases/case.h"

/* One event in the plan of all. */
typedef struct {
    const Event *event;
    Option *alone;    /* the best tapers up to it if it alone mattered; NULL if
                         silent */
    double none;      /* [readiness] without any taper */
    double readiness; /* [readiness] under the recommended tapers */
    double best;      /* [readiness] under the best ones of all together */
    double most;      /* [readiness] if this event alone mattered */
    double low, high, gain_low, gain_high; /* NAN without draws */
    double handed; /* [readiness] gain of the plan handed out, if there is one
                      (joint_record_look()); NAN where silent */
} JointPeak;

/* One athlete. */
typedef struct {
    const Case *c;
    bool silent; /* nothing is known of the athlete, as squad_tapers.h decides:
                    the published taper is before each event, and nothing is
                    told of readiness, which is NAN */
    bool tested; /* though there are tests */
    size_t count;
    JointEvent *events;
    JointPeak *peaks;
    double *weight;
    Joint joint;
    JointFloor floor;
    double scale;      /* [readiness] of gains, for words_figure() */
    double beats_none; /* share of draws in which the weighted sum gains */
    bool handed;       /* a plan was handed out that tells of days to come, */
    Date issued;       /* on this day */
} JointPeaks;

/* The athlete's own tapers, without what was decided for others; of one of whom
 * nothing is known (`silent`) the published ones. */
StatusCode joint_peaks_search(const Case *c, bool silent, JointPeaks *p,
                              Status *status);

/* What a search that did not fail has found, for the answer about the same
 * athlete, in one block; free() it. */
typedef struct JointKept JointKept;
JointKept *joint_peaks_keep(const JointPeaks *peaks);

/* Of several athletes, with what was decided together and kept
 * (joint_squad.h). */
StatusCode joint_peaks_build(const Case *cases, size_t count, JointPeaks *peaks,
                             Status *status);

void joint_peaks_free(JointPeaks *p);

/* What this event gives up for the others, at the best of each. Never below
 * 0 but for rounding and, in a variable-dose model, a search in turns. */
double joint_peaks_given_up(const JointPeak *peak);

/* Share of what the event could gain alone that the recommended tapers bring;
 * NAN where there is nothing to gain. */
double joint_peaks_share(const JointPeak *peak);

StatusCode joint_peaks_judge_all(const Context *d, const JointPeaks *p,
                                 size_t count, Status *status);

/* Rules of the other events, which the context has not looked at, and events
 * too far ahead to plan for. */
void joint_peaks_warn(const Context *d, const JointPeaks *p);

#endif
