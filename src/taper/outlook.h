/* outlook: one athlete on the way to one event, whatever the model: the log,
 * the usual week to come, the event with its own load and sessions, and how
 * many days there are to taper in.
 *
 * Sessions of an event fall at their clock times. In a log without clock times
 * all of a day falls at one moment, and of an event's day the first session
 * does; the others follow as much later as their times say.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_OUTLOOK_H
#define TAPER_OUTLOOK_H

#include "response/kernel.h"
#include "season/usual.h"

/* One session of the event. */
typedef struct {
    size_t day;  /* of the outlook */
    int minute;  /* [min after midnight] -1: not known */
    size_t step; /* at which readiness before it is read */
} OutlookSession;

typedef struct {
    Date first;         /* day 0 */
    size_t log_days;    /* days [0, log_days) are logged */
    size_t days;        /* all days: past the event by OUTLOOK_TAIL days of the
                           usual week, or to the log's end */
    const Event *event; /* NULL: none, so nothing to plan for */
    size_t event_day;   /* index of the event's first day */
    size_t event_days;
    double event_load;       /* [load/d] of each of its days */
    bool event_load_guessed; /* from sessions_per_day and the usual load */
    size_t window;           /* [d] days before the event that may be cut */
    double may_go, stays;    /* [load] planned in the window, may be cut and may
                                not */
    double *cuttable;        /* [load] planned for each day, may be cut */
    double *fixed;      /* [load] planned or logged for each day, may not */
    int *sessions;      /* of each day, logged or planned */
    int *kept;          /* of them, those that a rest day does not take away */
    Timeline timeline;  /* with no taper */
    double *gap, *load; /* of the timeline */
    size_t *read_step;  /* step at which each day is read */
    size_t
        *after_step; /* the day's last step, for readings after its sessions */
    size_t *load_step; /* step that takes up a planned day's load */
    double *read_time; /* [d] when each day is read */
    double *load_time; /* [d] when a planned day's load, or on an event's day
                          its first session's, falls */
    OutlookSession *session; /* of the event, in order of time; a day's load is
                                shared out evenly among its sessions */
    size_t session_count;
} Outlook;

enum {
    OUTLOOK_LONGEST = 366, /* [d] farthest event planned for */
    OUTLOOK_TAIL = 14      /* [d] looked at after an event */
};

/* Planned load of a day to come: an event's, which is then given, or the usual
 * day's. */
double outlook_day(const Usual *usual, Date date, const Event **event);

/* Builds an outlook; with `event` NULL it ends with the log. `before` is the
 * steady training before the log [load/d]. Daily and Usual may be freed
 * afterwards. */
void outlook_build(const Usual *usual, const Daily *daily, const Event *event,
                   double before, Outlook *outlook);
void outlook_free(Outlook *outlook);

/* Lets the window reach back over earlier events to today. Their days have
 * nothing that may be cut. */
void outlook_widen(Outlook *outlook, const Usual *usual);

/* Total planned load of a day [load]. */
double outlook_planned(const Outlook *outlook, size_t day);

/* Step at which the first day is read that may be cut. */
size_t outlook_start(const Outlook *outlook);

/* Loads of the timeline with day `u` days before the event cut by cut[u - 1],
 * into `load` (timeline.steps long). */
void outlook_apply(const Outlook *outlook, const double *cut, double *load);

#endif
