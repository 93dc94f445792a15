/* course: readiness of one athlete at every step of an outlook under some cuts,
 * as expected over the draws and with their 5 to 95 % band.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_COURSE_H
#define COMMANDS_COURSE_H

#include "commands/desk.h"

typedef struct {
    size_t steps, draws;
    double *mean;       /* [readiness] of each step; of the model itself where
                           there are no draws */
    double *low, *high; /* NAN without draws */
    double *all;        /* [steps * draws], of each step in order of size */
} Course;

/* `cut` as outlook_apply() takes it. */
void course_build(const Case *c, const Outlook *outlook, const double *cut,
                  Course *course);
void course_free(Course *course);

#endif
