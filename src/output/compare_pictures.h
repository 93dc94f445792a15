/* compare_pictures: readiness under each option.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_COMPARE_PICTURES_H
#define OUTPUT_COMPARE_PICTURES_H

#include "present/plot.h"

enum {
    DAYS_SHOWN = 35,  /* [d] before the event */
    OPTIONS_SHOWN = 8 /* more cannot be told apart in a picture */
};

StatusCode compare_pictures_draw(const void *answers, size_t at,
                                 const Gallery *gallery, Text *paths,
                                 Status *status);

#endif
