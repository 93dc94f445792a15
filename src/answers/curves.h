/* curves: fitness, fatigue and readiness of one athlete day by day, under one
 * taper, with a band from the draws.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_CURVES_H
#define ANSWERS_CURVES_H

#include "cases/case.h"

typedef struct {
    const Case *c;
    size_t days;
    double *load, *fitness, *fatigue; /* [days] means over the draws */
    double *readiness;  /* [days] the same, as the test shows it */
    double *low, *high; /* [days] 5 % and 95 % points; NULL without draws */
    Date taper_from, taper_to; /* DATE_NONE: no taper */
    Date issued; /* days to come are those of the plan handed out then;
                    DATE_NONE: they are not */
} Curves;

/* `days` are counted from the outlook's first. */
void curves_build(const Case *c, const Option *option, ReadWhen when,
                  size_t days, Curves *curves);

/* The same with what is left out of each day before the event [window]. */
void curves_build_cuts(const Case *c, const double *cut, ReadWhen when,
                       size_t days, Curves *curves);

/* The same with the days of the plan handed out. */
void curves_build_handed(const Case *handed, Date issued, size_t days,
                         Curves *curves);

void curves_free(Curves *curves);

#endif
