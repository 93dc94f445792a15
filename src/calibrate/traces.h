/* traces: what training has left at each test, and how it moves over the log,
 * for any time constants, from a table of one athlete's log.
 *
 * In linear kinds the response with k1 = 1 is a sum of gains times traces
 * F(t; tau), the sum over the loads before t of load x e^(-age/tau). F is a
 * smooth function of ln tau, so it is run once for each of some ninety time
 * constants and interpolated between eight neighbours (Lagrange). The variance
 * of a sum of traces over the log is a quadratic form of their covariances,
 * tabled too. Agrees with the kernel to about 1e-7 of the trace, and costs the
 * same however long the log is.
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

#endif
