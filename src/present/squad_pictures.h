/* squad_pictures: what a plan costs each of a squad, and options side by side
 * with their bands, as values; how they look is up to plots/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_SQUAD_PICTURES_H
#define PRESENT_SQUAD_PICTURES_H

#include "present/plot.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    const char *title, *subtitle;
    const char *const *athletes; /* [rows] */
    size_t rows;
    const char *const *plans; /* [columns] */
    size_t columns;
    size_t common;          /* the first so many columns are the squad's plans,
                               the others athletes' own best */
    const double *loss;     /* [rows * columns] share of what is possible; not
                               finite: not within their limits */
    const double *possible; /* [rows * columns] share that the plan gains; below
                               0: worse than no taper */
    const size_t *given;    /* [rows] column of the assigned taper */
} LossesPicture;

StatusCode picture_losses(const LossesPicture *picture, const Gallery *gallery,
                          const char *name, Text *path, Status *status);

enum { FAN_MOST = 8 /* panels */ };

typedef struct {
    const char *title, *subtitle, *readiness_label;
    const char *const *names; /* [options] */
    const char *const *words; /* [options] readiness at the event */
    size_t options;           /* at most FAN_MOST */
    const double *readiness;  /* [days * options], day by day */
    const double *low, *high; /* the same, 5 % and 95 % points; not finite: no
                                 band */
    size_t days;
    int first_offset; /* [d] of day 0 from the event's first day */
    int event_days;
} FanPicture;

StatusCode picture_fan(const FanPicture *picture, const Gallery *gallery,
                       const char *name, Text *path, Status *status);

#endif
