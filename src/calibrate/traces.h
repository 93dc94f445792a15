/* traces: what training has left at each test, and how it moves over the log,
 * for any time constants, from a table of one athlete's log.
 *
 * In linear kinds the response with k1 = 1 is a sum of gains times traces
 * F(t; tau), the sum over the loads before t of load x e^(-age/tau). F is a
 * smooth function of ln tau, so it is run once for each of some ninety time
 * constants and interpolated between eight neighbours (Lagrange). The variance
 * of a sum of traces over the log is a quadratic form of their covariances,
 * tabled too, and so is their sum of squares over the tests. Agrees with the
 * kernel to about 1e-7 of the trace, and costs the same however long the log is
 * and however many tests there are.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_TRACES_H
#define CALIBRATE_TRACES_H

#include "calibrate/basis.h"

typedef struct Traces Traces;

Traces *traces_build(const TestData *data);
void traces_free(Traces *traces);

/* Response less p0 at each test, into z[tests], and its SD over all steps of
 * the log read before their loads. False, with nothing written, for a kind that
 * is not linear or a time constant outside 0.2 to 1000 d. */
bool traces_read(const Traces *traces, const ResponseParams *params, double *z,
                 double *spread);

/* Many sums of exponentials, a column for each part's time constants and gains.
 */
typedef struct {
    size_t count;
    int parts;
    const double *log_tau[COMPONENTS_MOST], *gain[COMPONENTS_MOST];
} TraceShapes;

/* Columns of what they come to. */
typedef struct {
    double *first;       /* response at the first test */
    double *z, *zz, *zy; /* weighted sums over the tests: z less the first
                            one's, its square, its product with the value less
                            the first one */
    double *spread;      /* SD over the log; NAN: a time constant is outside,
                            and the others mean nothing */
} TraceSums;

void traces_sums(const Traces *traces, const TraceShapes *shapes,
                 const TraceSums *sums);
/* Their responses at the tests, a row of `tests` each; outside, 0. */
void traces_tests(const Traces *traces, const TraceShapes *shapes, double *z);

#endif
