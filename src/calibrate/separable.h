/* separable: a problem of least squares whose model is linear in a level and
 * some gains and nonlinear in some shapes (time constants):
 *
 *     y = level + sum over k of gain[k] x column[k](shapes)
 *
 * and its fit. projection.h solves it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_SEPARABLE_H
#define CALIBRATE_SEPARABLE_H

#include <stdbool.h>
#include <stddef.h>

enum {
    SEPARABLE_GAINS = 3,
    SEPARABLE_SHAPES = 3,
    SEPARABLE_ALL = 1 + SEPARABLE_GAINS + SEPARABLE_SHAPES
};

/* Fills column[gain][row] and, unless `slope` is NULL, slope[shape][row]: the
 * derivative of the column the shape belongs to by the shape's logarithm. */
typedef void (*SeparableColumns)(void *context, const double *shape,
                                 double *const *column, double *const *slope);

/* The same without slopes for rows of SEPARABLE_SHAPES shapes, into
 * column[gain][at * rows + row]. */
typedef void (*SeparableMany)(void *context, size_t count, const double *shape,
                              double *const *column);

typedef struct {
    size_t rows;
    const double *value, *weight;
    bool level; /* is there one? */
    int gains, shapes;
    bool any_sign[SEPARABLE_GAINS]; /* else from 0 */
    double least[SEPARABLE_SHAPES]; /* bounds, above 0 */
    double most[SEPARABLE_SHAPES];
    int under[SEPARABLE_SHAPES];   /* an earlier shape this one stays below
                                      by `ratio`; its own number: none */
    double ratio;                  /* above 1 */
    int belongs[SEPARABLE_SHAPES]; /* the gain whose column it changes */
    SeparableColumns columns;
    SeparableMany many; /* NULL: one after another */
    void *context;
} Separable;

/* Parameters in a row, for the errors: level, gains, shapes. */
typedef struct {
    double level, gain[SEPARABLE_GAINS], shape[SEPARABLE_SHAPES];
    double rss; /* weighted residual sum */
    bool on_bound[SEPARABLE_ALL];
    /* of unit residual variance, NAN where at a bound or not told apart */
    double covariance[SEPARABLE_ALL][SEPARABLE_ALL];
    double condition; /* of the Jacobian, columns scaled; NAN: not asked */
} SeparableFit;

#endif
