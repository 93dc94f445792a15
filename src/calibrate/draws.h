/* draws: a model's uncertainty as many equally likely parameter sets.
 *
 * From the spreads of a model file: each parameter with a spread is log-normal
 * about its value (growth: as likely anywhere in its range), drawn by a shifted
 * Sobol sequence (Cranley, Patterson 1976, SIAM J Numer Anal 13:904-914; from
 * memory), with tau1 > 1.3 tau2 so that the two components stay apart. The same
 * seed gives the same draws.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_DRAWS_H
#define CALIBRATE_DRAWS_H

#include "base/status.h"
#include "response/model.h"

#include <stddef.h>

typedef struct {
    size_t count; /* 0: the model has no spread, so nothing is uncertain */
    ResponseParams *set;
} Draws;

enum { DRAWS_DEFAULT = 1024 };

/* Fills `draws`; a model without spreads gives none. Fails with STATUS_DATA
 * when too few sets keep tau1 above 1.3 tau2. */
StatusCode draws_from_spreads(const Model *model, size_t count,
                              unsigned long seed, Draws *draws, Status *status);
/* Reads a file of draws of one kind: a column for each of its parameters, a row
 * a draw. False after noting what is wrong. */
bool draws_read(const char *path, ResponseKind kind, Draws *draws,
                Notes *notes);
/* response_settle() for each. */
void draws_settle(Draws *draws, double mean_load);
void draws_free(Draws *draws);

/* Quantile of values, 0 <= p <= 1, linear between order statistics (Hyndman,
 * Fan 1996, Am Stat 50:361-365, type 7; from memory); reorders them. NAN when
 * there is none. */
double draws_quantile(double *values, size_t count, double p);

#endif
