/* fit_pictures: the pictures of a fit: posterior, residuals, forecasts, the
 * fitted curve.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FIT_PICTURES_H
#define OUTPUT_FIT_PICTURES_H

#include "present/plot.h"

StatusCode fit_pictures_draw(const void *answers, size_t at,
                             const Gallery *gallery, Text *paths,
                             Status *status);

#endif
