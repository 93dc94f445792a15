/* words: words and figures that the answers share.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_WORDS_H
#define OUTPUT_WORDS_H

#include "answers/best_taper.h"
#include "present/grid.h"

enum { FIGURE_TEXT = 32 };

/* A readiness or gain with as many digits as its size calls for, relative to
 * `scale`. Returns `buffer`. */
const char *words_figure(char buffer[FIGURE_TEXT], double value, double scale);

/* Readiness as a test of theirs shows it; "-" where it has no figures
 * (case_has_figures()). Returns `buffer`. */
const char *words_level(char buffer[FIGURE_TEXT], const Case *c,
                        double readiness, double scale);

/* "literature, two-component, tau 42/13 d, k2/k1 1.9", appended. */
void words_model(const Model *model, Text *text);

/* "literature (tau 42/13 d, k2/k1 1.9)", for a picture's subtitle, appended. */
void words_model_short(const Model *model, Text *text);

/* "Regional cup, Sat 25 Apr 2026, in 27 days", appended. */
void words_event(const Case *c, Text *text);

/* "per cent", "-" without a value, for a cell. Returns `buffer`. */
const char *words_percent(char buffer[FIGURE_TEXT], double share);

/* Label of a readiness axis, from the model's unit. Appended. */
void words_readiness(const Case *c, Text *text);
/* "in the unit of Jump height (cm)", or on the model's own scale; appended. */
void words_unit(const Case *c, Text *text);

/* Gain in per cent of readiness without a taper: "+3.3 %"; "-" where the
 * model's scale means nothing, or of NAN. Returns `buffer`. */
const char *words_gain(char buffer[FIGURE_TEXT], const BestTaper *v,
                       double gain);
/* "-0.6 to +7.4 %", appended; nothing where it means nothing. */
void words_gain_range(const BestTaper *v, const Spread *spread, Text *text);
/* The same as a cell, "-" for nothing; `spread` may be NULL. */
void words_gain_cell(Grid *grid, const BestTaper *v, const Spread *spread);
/* "84 of 100"; "-" of NAN. */
void words_helps_cell(Grid *grid, double share);

/* For CSV: does what is recommended follow the model? "no": nothing tells more
 * than the published evidence, so its figures are not to be counted on. */
const char *words_followed(const BestTaper *v);

#endif
