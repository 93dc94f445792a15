/* separable: least squares of a model that is linear in a level and some gains
 * and nonlinear in some shapes (time constants):
 *
 *     y = level + sum over k of gain[k] x column[k](shapes)
 *
 * Variable projection (Golub, Pereyra 1973, SIAM J Numer Anal 10:413-432; from
 * memory): the level and the gains are solved for in closed form at each set of
 * shapes, gains by the cases of their active set. A grid over the logarithms
 * of the shapes finds every valley; a pattern search goes down each;
 * Levenberg-Marquardt follows it to its bottom, the linear parameters left
 * undamped, which is the projection of Kaufman (1975, BIT 15:49-57; from
 * memory); Gauss-Newton in all parameters gives the last digits. The smallest
 * residual sum of all valleys is the answer, so that it is the global one.
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

/* The least-squares fit. Needs at least one row; `errors` asks for covariance
 * and condition. */
void separable_run(const Separable *problem, bool errors, SeparableFit *fit);

/* Smallest weighted residual sum at given shapes; INFINITY outside the bounds.
 */
double separable_rss_at(const Separable *problem, const double *shape);

#endif
