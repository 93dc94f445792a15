/* jacobian: the separable problem in all its parameters at once: what a point
 * leaves, the derivatives of the model by the parameters that are free, and the
 * covariance of the estimates, (J'J)^-1 from the singular values of J.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_JACOBIAN_H
#define CALIBRATE_JACOBIAN_H

#include "calibrate/reduced.h"

/* The free ones in a row: 0 the level, 1 + k a gain, 1 + gains + i a shape. */
typedef struct {
    int count;
    int which[SEPARABLE_ALL];
} JacobianFree;

/* Columns with slopes, and what a point leaves: its residual sum, term by term.
 */
void jacobian_read(const Reduced *w, ReducedPoint *x);

/* A gain of 0 is not moved, and leaves its shapes undetermined. `leave`: may
 * shapes leave their bounds, where the residual sum would fall? */
JacobianFree jacobian_free(const Reduced *w, const ReducedPoint *x, bool leave);

/* Derivative of the model in a row by a parameter (a shape's by its logarithm),
 * at the point read last. */
double jacobian_column(const Reduced *w, const ReducedPoint *x, int which,
                       size_t row);

/* Sets covariance and condition. */
void jacobian_errors(const Reduced *w, const ReducedPoint *x,
                     SeparableFit *fit);

#endif
