/* fit_text: a fit as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FIT_TEXT_H
#define OUTPUT_FIT_TEXT_H

#include "answers/athlete_fit.h"
#include "output/output.h"

#include <stdio.h>

void fit_text_print(const AthleteFit *f, bool notes, FILE *to);

/* One athlete of a squad's table. */
typedef struct {
    char *name;
    size_t tests;
    double bayes, narrowed, t_n[3]; /* low, middle, high [d] */
} FitLine;

typedef struct {
    FitLine *item;
    size_t count, room;
} FitLines;

void fit_text_add(const AthleteFit *f, FitLines *lines);
void fit_text_squad(const FitLines *lines, const Output *o);
void fit_text_lines_free(FitLines *lines);

void fit_text_foot(const Case *first, const Output *o);

#endif
