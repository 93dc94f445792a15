/* curves_picture: the season picture of one athlete.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_CURVES_PICTURE_H
#define OUTPUT_CURVES_PICTURE_H

#include "answers/curves.h"
#include "present/plot.h"

/* The season picture of a case; `what` ends its file's name, so that no
 * command's picture takes another's place. */
StatusCode curves_picture_draw(const Curves *curves, const char *what,
                               const Gallery *gallery, Text *paths,
                               Status *status);

#endif
