/* event_pictures: what the pictures of events show, as values; how they look is
 * up to plots/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_EVENT_PICTURES_H
#define PRESENT_EVENT_PICTURES_H

#include "base/date.h"
#include "present/pictures.h"
#include "present/plot.h"

/* One reading: of a morning, or before a session of the event. */
typedef struct {
    double time; /* [d] from the start of the event's first day */
    bool session;
    double none, none_low, none_high;    /* [readiness] no taper */
    double taper, taper_low, taper_high; /* [readiness] under the taper */
} PictureReading;

typedef struct {
    const char *title, *subtitle, *readiness_label;
    const char *taper;  /* its name */
    const char *labels; /* of the sessions, like "Fri 09:30", one a line */
    double level;       /* [readiness] of normal training */
    const PictureReading *reading; /* in order of time */
    size_t readings;
    int event_days;
} SessionsPicture;

/* The days around an event, session by session. */
StatusCode picture_sessions(const SessionsPicture *picture,
                            const Gallery *gallery, const char *name,
                            Text *path, Status *status);

typedef struct {
    const char *title, *subtitle, *load_label, *readiness_label;
    Date first; /* day 0 of the arrays */
    size_t days;
    const double *planned, *load; /* [load] without and with the tapers */
    const double *none, *readiness, *low, *high;
    const PictureEvent *event;
    const Date *taper_from; /* of each event; DATE_NONE: no taper */
    size_t events;
    Date today;
} PeaksPicture;

/* A season with several peaks, with and without the tapers. */
StatusCode picture_peaks(const PeaksPicture *picture, const Gallery *gallery,
                         const char *name, Text *path, Status *status);

#endif
