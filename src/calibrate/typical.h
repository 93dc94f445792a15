/* typical: by how much a test varies within an athlete, as told by a squad.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_TYPICAL_H
#define CALIBRATE_TYPICAL_H

#include <stddef.h>

/* Readings of one kind of test of a squad, those of one athlete in a row. */
typedef struct {
    size_t count;
    const double *value;
    const size_t *athlete; /* of each reading */
} SquadReadings;

/* Median over the athletes with three readings or more of their SD; for want of
 * them, of two; then the SD between athletes; last 2 % of the level, or 1.
 * Above 0. The order of athletes does not matter. */
double typical_spread(const SquadReadings *readings);

#endif
