/* valleys: a residual sum whose valleys are known.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/valleys.h"

#include <math.h>

/* A pointer that turns round once while the shape doubles. */
static void pointer(void *context, const double *shape, double *const *column,
                    double *const *slope) {
    double turn = 2 * acos(-1) * log2(shape[0]);
    (void)context, (void)slope;
    column[0][0] = cos(turn);
    column[0][1] = sin(turn);
}

/* A gain from 0 on leaves of (1, 0) nothing where the pointer points there, at
 * 2 and 4, and 1 where it points away, from the first shape on: a plain. */
static void valleys_of_pointer(void) {
    static const double value[] = {1, 0}, weight[] = {1, 1};
    Separable s = {.rows = 2,
                   .value = value,
                   .weight = weight,
                   .gains = 1,
                   .shapes = 1,
                   .least = {1.5},
                   .most = {6},
                   .columns = pointer};
    ReducedPoint valley[VALLEYS_MOST];
    double step[SEPARABLE_SHAPES], low, high;
    Reduced w;
    reduced_start(&w, &s);
    CU_ASSERT_EQUAL_FATAL(valleys_find(&w, step, valley), 3);
    low = fmin(valley[0].shape[0], valley[1].shape[0]);
    high = fmax(valley[0].shape[0], valley[1].shape[0]);
    CU_ASSERT(fabs(log(low / 2)) <= step[0] / 2);
    CU_ASSERT(fabs(log(high / 4)) <= step[0] / 2);
    CU_ASSERT(valley[0].rss <= valley[1].rss && valley[1].rss < .001);
    ASSERT_NEAR(valley[2].rss, 1, 1e-14);
    ASSERT_NEAR(valley[2].shape[0], 1.5, 1e-14);
    reduced_free(&w);
}

static const TestCase cases[] = {{"valleys_of_pointer", valleys_of_pointer},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_valleys = {"calibrate", cases};
