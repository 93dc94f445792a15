/* option_pictures: options side by side, as values; how they look is up to
 * plots/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_OPTION_PICTURES_H
#define PRESENT_OPTION_PICTURES_H

#include "present/plot.h"

typedef struct {
    const char *title, *subtitle, *readiness_label;
    const char *const *names; /* of the options */
    size_t options;
    const double *readiness; /* [days * options], day by day */
    size_t days;
    int first_offset; /* [d] of day 0 from the event's first day */
    int event_days;
} ComparisonPicture;

StatusCode picture_comparison(const ComparisonPicture *picture,
                              const Gallery *gallery, const char *name,
                              Text *path, Status *status);

enum { FAN_MOST = 8 /* panels */ };

typedef struct {
    ComparisonPicture of;     /* at most FAN_MOST options */
    const char *const *words; /* [options] readiness at the event */
    const double *low, *high; /* [days * options] 5 % and 95 % points; not
                                 finite: no band */
} FanPicture;

StatusCode picture_fan(const FanPicture *picture, const Gallery *gallery,
                       const char *name, Text *path, Status *status);

#endif
