/* comparison: named options side by side.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_COMPARISON_H
#define ANSWERS_COMPARISON_H

#include "answers/best_taper.h"

#include <stdbool.h>

typedef struct {
    const char *name;
    Option option;
    bool handed;            /* the plan handed out, which is no option */
    bool outside;           /* of the limits */
    double readiness, gain; /* NAN: no plan was handed out to this athlete */
    double kept; /* as Found.kept; of an option with more days than are
                    searched, of its own days */
    Spread spread;
} ComparisonRow;

typedef struct {
    BestTaper taper;
    ComparisonRow *rows;
    size_t count;
} Comparison;

StatusCode comparison_build(const Case *c, Comparison *k, Status *status);

void comparison_free(Comparison *k);

/* Is the row more than no taper? */
bool comparison_tapers(const ComparisonRow *row);

/* Is there anything to compare over draws, and room for it? */
bool comparison_has_pairs(const Comparison *k);

/* Gains of every option under every draw, option by option; to be freed. */
double *comparison_gains(const Comparison *k);

#endif
