/* points: see points.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/points.h"

#include "base/mem.h"

static const double least = 0x1p-36;

void points_start(Points *p, int dimensions, gsl_rng *rng) {
    *p = (Points){.dimensions = dimensions};
    p->sequence = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
    if (!p->sequence)
        mem_out();
    for (int k = 0; k < dimensions; k++)
        p->shift[k] = gsl_rng_uniform(rng);
}

void points_next(Points *p, double u[][POINTS_AT_ONCE]) {
    for (int i = 0; i < POINTS_AT_ONCE; i++) {
        double point[POINTS_DIMENSIONS];
        gsl_qrng_get(p->sequence, point);
        for (int k = 0; k < p->dimensions; k++) {
            double x = point[k] + p->shift[k];
            x = x < 1 ? x : x - 1;
            x = x < least ? least : x;
            u[k][i] = x > 1 - least ? 1 - least : x;
        }
    }
}

void points_free(Points *p) {
    gsl_qrng_free(p->sequence);
}
