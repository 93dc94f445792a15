/* normal: beside GSL's and NumPy's normal.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/normal.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_rng.h>
#include <math.h>

/* Of all sizes a point may have, by GSL. */
static void test_normal_quantiles(void) {
    gsl_rng *rng = test_random(20908);
    for (int round = 0; round < 500; round++) {
        size_t count = 1 + gsl_rng_uniform_int(rng, 30);
        double u[30], x[30];
        for (size_t i = 0; i < count; i++) {
            u[i] = i % 3 ? exp2(-36 * gsl_rng_uniform(rng))
                         : gsl_rng_uniform_pos(rng);
            if (i % 2)
                u[i] = 1 - u[i];
            x[i] = u[i] = fmin(fmax(u[i], 0x1p-36), 1 - 0x1p-36);
        }
        normal_quantiles(count, x);
        for (size_t i = 0; i < count; i++)
            CU_ASSERT(test_near(x[i], gsl_cdf_ugaussian_Pinv(u[i]), 1e-13));
    }
    gsl_rng_free(rng);
}

/* By GSL: the share of what is above 0 that is above the number. Far below 0
 * nothing can be told apart, and the number is next to 0. */
static void test_normal_cut(void) {
    gsl_rng *rng = test_random(20909);
    for (int round = 0; round < 500; round++) {
        size_t count = 1 + gsl_rng_uniform_int(rng, 150);
        double u[150], mu[150], sd[150], x[150];
        for (size_t i = 0; i < count; i++) {
            sd[i] = exp(test_between(rng, -3, 3));
            mu[i] = sd[i] * test_between(rng, i % 2 ? -3 : -25, 9);
            x[i] = u[i] = gsl_rng_uniform_pos(rng);
        }
        normal_cut(count, mu, sd, x);
        for (size_t i = 0; i < count; i++) {
            double all = gsl_cdf_ugaussian_P(mu[i] / sd[i]);
            double above = gsl_cdf_ugaussian_Q((x[i] - mu[i]) / sd[i]);
            CU_ASSERT(x[i] > 0);
            CU_ASSERT(fabs(above / all - u[i]) < 1e-9);
        }
    }
    gsl_rng_free(rng);
}

static void test_normal_far(void) {
    double u[3] = {.3, .5, .9}, mu[3] = {-60, -45, -39.5}, sd[3] = {1, 1, 1};
    normal_cut(3, mu, sd, u);
    for (int i = 0; i < 3; i++)
        CU_ASSERT(u[i] > 0 && u[i] < 1e-8);
}

static const TestCase cases[] = {{"normal_quantiles", test_normal_quantiles},
                                 {"normal_cut", test_normal_cut},
                                 {"normal_far", test_normal_far},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_normal = {"calibrate", cases};
