/* weights: beside the formulas, one by one.
 *
 * Cases are seeded; PEAKWARD_SEED sets another seed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/weights.h"

#include <gsl/gsl_rng.h>
#include <gsl/gsl_sf_erf.h>
#include <math.h>

/* Against the library's, and beyond what it is for. */
static void test_weights_exp(void) {
    gsl_rng *rng = test_random(20906);
    double beyond[] = {-700.001, -1e9, -INFINITY, 701, 1e9, INFINITY, 0, -0.0};
    for (int round = 0; round < 500; round++) {
        size_t count = 1 + gsl_rng_uniform_int(rng, 30);
        double x[30], y[30];
        for (size_t i = 0; i < count; i++)
            x[i] = y[i] = (i % 2 ? 1 : 700) * test_between(rng, -1, 1);
        weights_exp(count, y);
        for (size_t i = 0; i < count; i++)
            CU_ASSERT(fabs(y[i] - exp(x[i])) < 1e-15 * exp(x[i]));
    }
    weights_exp(8, beyond);
    CU_ASSERT(beyond[0] == 0 && beyond[1] == 0 && beyond[2] == 0);
    CU_ASSERT(beyond[3] == beyond[4] && beyond[4] == beyond[5]);
    ASSERT_NEAR(log(beyond[3]), 700, 1e-15);
    CU_ASSERT(beyond[6] == 1 && beyond[7] == 1);
    gsl_rng_free(rng);
}

enum { WEIGHTS_MOST = 45 };

/* Level and scale integrated out, in logarithms by GSL: the likelihood of
 * shape `i` times its prior over the density from which it was drawn. */
static double log_weight(const Weights *w, size_t i, const Known *known,
                         double effect) {
    double s2 = exp(2 * w->log_sigma[i]), n = (double)known->tests;
    double xx =
        (w->zz[i] - w->z[i] * w->z[i] / known->w) / pow(w->spread[i], 2);
    double xy = (w->zy[i] - w->z[i] * known->y / known->w) / w->spread[i];
    double yy = known->yy - known->y * known->y / known->w;
    double lambda = xx / s2 + 1 / (effect * effect), mu = xy / s2 / lambda;
    return -(n - 1) * w->log_sigma[i] - yy / (2 * s2) + lambda * mu * mu / 2 +
           gsl_sf_log_erfc(-mu * sqrt(lambda / 2)) -
           log(effect * sqrt(lambda)) - log(w->share[i]);
}

/* Responses of any size, for and against the values; any sigma. */
static void random_weights(gsl_rng *rng, Weights *w, Known *known) {
    TestData data = {.count = 6};
    double value[6], weight[6];
    data.value = value;
    data.weight = weight;
    *known = (Known){0};
    for (size_t k = 0; k < 6; k++) {
        value[k] = test_between(rng, 50, 55);
        weight[k] = test_between(rng, .5, 2);
        known_add(&data, k, known);
    }
    for (size_t i = 0; i < w->count; i++) {
        double size = exp(test_between(rng, -3, 3));
        double follows = test_between(rng, -2, 2);
        w->z[i] = w->zz[i] = w->zy[i] = 0;
        for (size_t k = 1; k < 6; k++) {
            double y = value[k] - value[0];
            double z = size * (follows * y + test_between(rng, -1, 1));
            w->z[i] += weight[k] * z;
            w->zz[i] += weight[k] * z * z;
            w->zy[i] += weight[k] * z * y;
        }
        w->spread[i] = size * test_between(rng, .5, 2);
        w->log_sigma[i] = test_between(rng, -1.5, 2);
        w->precision[i] = exp(-2 * w->log_sigma[i]);
        w->share[i] = exp(test_between(rng, -5, 5));
    }
}

static void test_weights(void) {
    gsl_rng *rng = test_random(20907);
    Weights w = {0};
    weights_room(&w, WEIGHTS_MOST);
    for (int round = 0; round < 400; round++) {
        Known known;
        double effect = exp(test_between(rng, -2, 3)), highest = -INFINITY;
        double wanted[WEIGHTS_MOST], sum = 0, squares = 0, size;
        w.count = 1 + gsl_rng_uniform_int(rng, WEIGHTS_MOST);
        random_weights(rng, &w, &known);
        for (size_t i = 0; i < w.count; i++) {
            wanted[i] = log_weight(&w, i, &known, effect);
            highest = fmax(highest, wanted[i]);
        }
        for (size_t i = 0; i < w.count; i++)
            sum += wanted[i] = exp(wanted[i] - highest);
        size = weights_set(&w, &known, effect);
        for (size_t i = 0; i < w.count; i++) {
            CU_ASSERT(fabs(w.weight[i] * sum - wanted[i]) <=
                      1e-10 * wanted[i] + 1e-280);
            squares += pow(wanted[i] / sum, 2);
        }
        ASSERT_NEAR(size, 1 / squares, 1e-9);
    }
    weights_free(&w);
    gsl_rng_free(rng);
}

static const TestCase cases[] = {
    {"weights_exp", test_weights_exp}, {"weights", test_weights}, {NULL, NULL}};

const TestSuite suite_calibrate_weights = {"calibrate", cases};
