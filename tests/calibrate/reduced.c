/* reduced: level and gains at given shapes, worked out by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "calibrate/reduced.h"

#include <math.h>

/* 0, 1, 2 for the first gain, times the shape; 0, 0, 1 for the second. */
static void columns(void *context, const double *shape, double *const *column,
                    double *const *slope) {
    (void)context, (void)slope;
    for (int i = 0; i < 3; i++) {
        column[0][i] = i * shape[0];
        column[1][i] = i == 2;
    }
}

typedef struct {
    double value[3];
    int gains;
    double shape, level, gain[2], rss;
} Row;

static void reduced_by_hand(void) {
    static const Row rows[] = {
        {{1, 2, 4}, 1, 1, 5. / 6, {1.5, 0}, 1. / 6},
        {{1, 2, 4}, 1, 2, 5. / 6, {.75, 0}, 1. / 6},
        {{1, 2, 4}, 2, 1, 1, {1, 1}, 0},
        /* 1 + 2 x - 1 z would leave nothing, but no gain is below 0 */
        {{1, 3, 4}, 2, 1, 7. / 6, {1.5, 0}, 1. / 6},
        {{4, 2, 1}, 1, 1, 7. / 3, {0, 0}, 14. / 3}};
    static const double weight[] = {1, 1, 1};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const Row *row = &rows[i];
        Separable s = {.rows = 3,
                       .value = row->value,
                       .weight = weight,
                       .level = true,
                       .gains = row->gains,
                       .shapes = 1,
                       .columns = columns};
        ReducedPoint one = {.shape = {row->shape}}, many[2] = {one, one};
        Reduced w;
        reduced_start(&w, &s);
        reduced_solve(&w, false, &one);
        reduced_solve_many(&w, many, 2);
        ASSERT_NEAR(one.level, row->level, 1e-14);
        for (int k = 0; k < row->gains; k++)
            ASSERT_NEAR(one.gain[k], row->gain[k], 1e-14);
        ASSERT_NEAR(one.rss, row->rss, 1e-14);
        CU_ASSERT_EQUAL(many[1].level, one.level);
        CU_ASSERT_EQUAL(many[1].rss, one.rss);
        reduced_free(&w);
    }
}

/* The second shape stays below the first by the ratio. */
static void reduced_bounds(void) {
    Separable s = {.shapes = 2,
                   .least = {1, 1},
                   .most = {100, 50},
                   .under = {0, 0},
                   .ratio = 2};
    double shape[] = {10, 4};
    CU_ASSERT(reduced_inside(&s, shape));
    CU_ASSERT_EQUAL(reduced_bound_at(&s, shape, 1), 0);
    reduced_move(&s, (const double[]){0, log(3)}, shape);
    ASSERT_NEAR(shape[1], 5, 1e-14);
    CU_ASSERT_EQUAL(reduced_bound_at(&s, shape, 1), 1);
    reduced_move(&s, (const double[]){log(100), -9}, shape);
    ASSERT_NEAR(shape[0], 100, 1e-13);
    CU_ASSERT_EQUAL(shape[1], 1);
    CU_ASSERT_EQUAL(reduced_bound_at(&s, shape, 1), -1);
    CU_ASSERT_FALSE(reduced_inside(&s, (const double[]){10, 6}));
    CU_ASSERT_FALSE(reduced_inside(&s, (const double[]){10, .9}));
}

static const TestCase cases[] = {{"reduced_by_hand", reduced_by_hand},
                                 {"reduced_bounds", reduced_bounds},
                                 {NULL, NULL}};

const TestSuite suite_calibrate_reduced = {"calibrate", cases};
