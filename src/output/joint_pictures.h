/* joint_pictures: the way to several events.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_JOINT_PICTURES_H
#define OUTPUT_JOINT_PICTURES_H

#include "present/plot.h"

/* Of athletes with an event ahead. */
StatusCode joint_pictures_draw(const void *answers, size_t at,
                               const Gallery *gallery, Text *paths,
                               Status *status);

#endif
