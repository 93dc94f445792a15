/* grids: the least residual sum over a dense grid of shapes, gains in closed
 * form.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_CALIBRATE_GRIDS_H
#define TESTS_CALIBRATE_GRIDS_H

#include "athlete.h"

#include "athlete.h"

/* Fitness or fatigue at the tests for many time constants, centred. */
typedef struct {
    size_t count, tests;
    double (*taus)[2]; /* the second: tau_rise or tau3 */
    double *column;    /* [count * tests] */
    double *square, *by_value;
} Columns;

void columns_start(size_t most, size_t tests, Columns *c);

void columns_free(Columns *c);

/* Adds one column. All tests of these athletes are read alike and weigh 1. */
void columns_add(ResponseKind kind, const double *taus, bool fitness,
                 const Athlete *a, Columns *c);

/* All fitness columns within the bounds. */
void fill_fitness(ResponseKind kind, int size, const Athlete *a, Columns *c);

void fill_fatigue(ResponseKind kind, int size, const Athlete *a, Columns *c);

double dot(const double *a, const double *b, size_t n);

/* Smallest residual sum over all pairs of columns. */
double smallest_rss(const Athlete *a, const Columns *f, const Columns *g);

bool within_bounds(const ResponseParams *p);

#endif
