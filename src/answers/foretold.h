/* foretold: what a test at an event is forecast to show, and how far the test
 * itself can be trusted.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_FORETOLD_H
#define ANSWERS_FORETOLD_H

#include "answers/best_taper.h"

#define FORETOLD_Z90 1.6448536269514722 /* 95 % point of a normal */

/* In the unit of the test: the readiness that is expected, with the 90 % range
 * of a test on that day, which holds the test's noise; NAN where no test tells
 * the level. */
typedef struct {
    double value, low, high;
    const char *test; /* its name; NULL: none */
} Foretold;

/* With the usual days of the case as they are. */
Foretold foretold_as_usual(const Case *c);

/* With these cuts, whose mean readiness is known. */
Foretold foretold_cuts(const BestTaper *v, double readiness, const double *cut);

/* Typical error: from the differences of an athlete's successive tests until a
 * day: their SD over the root of 2 (Hopkins 2000, Sports Med 30:1-15); or the
 * `error` given with them. Worthwhile: .2 of the SD between athletes' means
 * (Hopkins 2004, Sportscience 8:1-7; from memory). NAN: not to be told. */
typedef struct {
    double typical_error, worthwhile;
} TestNoise;

TestNoise foretold_noise(const Season *season, size_t kind, Date until);

/* Index of a kind of test by name, or NAMES_NONE. */
size_t foretold_kind(const Season *season, const char *test);

#endif
