/* points: see points.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/points.h"

#include "base/mem.h"

#include <assert.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

gsl_rng *points_rng(unsigned long seed) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, seed);
    return rng;
}

Points points_new(unsigned dimensions, gsl_rng *rng) {
    Points p = {dimensions, gsl_qrng_alloc(gsl_qrng_sobol, dimensions), {0}};
    assert(dimensions <= POINTS_MOST);
    if (!p.sobol)
        mem_out();
    for (unsigned k = 0; k < dimensions; k++)
        p.shift[k] = gsl_rng_uniform(rng);
    return p;
}

void points_free(Points *p) {
    gsl_qrng_free(p->sobol);
}

void points_next(Points *p, double *u) {
    gsl_qrng_get(p->sobol, u);
    for (unsigned k = 0; k < p->dimensions; k++) {
        u[k] += p->shift[k];
        u[k] -= floor(u[k]);
        u[k] = fmin(fmax(u[k], 0x1p-40), 1 - 0x1p-40);
    }
}

void points_normal(Points *p, double *z) {
    points_next(p, z);
    for (unsigned k = 0; k < p->dimensions; k++)
        z[k] = gsl_cdf_ugaussian_Pinv(z[k]);
}
