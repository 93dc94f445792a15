/* readings: what the first tests foretell of those after them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_READINGS_H
#define CALIBRATE_READINGS_H

#include "calibrate/asked.h"

/* Some shapes of a trail, read once. */
typedef struct Readings Readings;

/* The trail must outlive it. */
Readings *readings_new(Trail *trail);
void readings_free(Readings *readings);

/* Draws from the posterior of the first `tests` readings of the first kind
 * alone, errors taken as normal: the `ahead` readings after them, without
 * noise, into reading[test * draws + draw], and sigma [test]. */
void readings_predict(Readings *readings, size_t tests, size_t ahead,
                      size_t draws, double *reading, double *sigma);

#endif
