/* points: beside GSL's Sobol sequence.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/points.h"

#include <gsl/gsl_rng.h>
#include <math.h>

/* GSL's own points, moved by the shift around a circle of length 1; at the
 * edges a little inside. */
static void test_points(void) {
    double u[POINTS_DIMENSIONS][POINTS_AT_ONCE], plain[POINTS_DIMENSIONS];
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_sobol, POINTS_DIMENSIONS);
    gsl_rng *rng = test_random(8101);
    Points p;
    points_start(&p, POINTS_DIMENSIONS, rng);
    p.shift[3] = .5; /* on which the first point falls */
    for (int i = 0; i < 1024; i++) {
        int at = i % POINTS_AT_ONCE;
        if (at == 0)
            points_next(&p, u);
        gsl_qrng_get(sequence, plain);
        for (int k = 0; k < POINTS_DIMENSIONS; k++) {
            double off = u[k][at] - plain[k] - p.shift[k];
            CU_ASSERT(fabs(off - round(off)) < 1e-10);
            CU_ASSERT(u[k][at] >= 0x1p-36 && u[k][at] <= 1 - 0x1p-36);
        }
    }
    points_free(&p);
    gsl_qrng_free(sequence);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {{"points", test_points}, {NULL, NULL}};

const TestSuite suite_calibrate_points = {"calibrate", cases};
