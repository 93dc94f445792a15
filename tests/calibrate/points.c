/* points: Sobol's sequence fills every interval of a dimension once, shifted or
 * not.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/points.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

enum { DIMENSIONS = 6, CELLS_OF = 256 };

/* Of the first 2^k points, the one at 0 that GSL leaves out included, each
 * interval of a length of 2^-k holds one, in every dimension (Sobol 1967, USSR
 * Comput Math Math Phys 7:86-112; from memory). */
static void test_points_even(void) {
    gsl_rng *rng = points_rng(7);
    Points points = points_new(DIMENSIONS, rng);
    int held[DIMENSIONS][CELLS_OF] = {{0}};
    double u[DIMENSIONS];
    for (int d = 0; d < DIMENSIONS; d++)
        held[d][0] = 1;
    for (int i = 1; i < CELLS_OF; i++) {
        points_next(&points, u);
        for (int d = 0; d < DIMENSIONS; d++) {
            double x = u[d] - points.shift[d] + 1e-12;
            x -= floor(x);
            CU_ASSERT(u[d] > 0 && u[d] < 1);
            held[d][(int)(x * CELLS_OF) % CELLS_OF]++;
        }
    }
    for (int d = 0; d < DIMENSIONS; d++)
        for (int i = 0; i < CELLS_OF; i++)
            CU_ASSERT_EQUAL(held[d][i], 1);
    for (int d = 0; d < DIMENSIONS; d++)
        CU_ASSERT(points.shift[d] > 0 &&
                  (d == 0 || points.shift[d] != points.shift[d - 1]));
    points_free(&points);
    gsl_rng_free(rng);
}

static void test_points_normal(void) {
    gsl_rng *one = points_rng(3), *other = points_rng(3);
    Points plain = points_new(3, one), normal = points_new(3, other);
    double u[3], z[3];
    for (int i = 0; i < 100; i++) {
        points_next(&plain, u);
        points_normal(&normal, z);
        for (int d = 0; d < 3; d++)
            ASSERT_NEAR(gsl_cdf_ugaussian_P(z[d]), u[d], 1e-12);
    }
    points_free(&plain);
    points_free(&normal);
    gsl_rng_free(one);
    gsl_rng_free(other);
}

static const TestCase cases[] = {{"points_even", test_points_even},
                                 {"points_normal", test_points_normal},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_points = {"calibrate", cases};
