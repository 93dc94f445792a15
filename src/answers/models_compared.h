/* models_compared: one athlete's taper searched under several models, to show
 * whether the advice hangs on the model.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_MODELS_COMPARED_H
#define ANSWERS_MODELS_COMPARED_H

#include "answers/best_taper.h"

#include <stdbool.h>

/* One athlete under each model. The searches list the same options in the same
 * order, since limits and days are the same. */
typedef struct {
    size_t count;
    Case *cases;
    BestTaper *tapers;
    size_t both; /* index of the option with the largest smallest share; 0:
                    none helps under every model */
} ModelsCompared;

double models_compared_share(const BestTaper *v, size_t option);

/* The smallest share that an option reaches; -INFINITY where a model sees no
 * gain at all and this is not "no taper". */
double models_compared_least(const ModelsCompared *w, size_t option);

StatusCode models_compared_build(const Case *c, ModelsCompared *w,
                                 Status *status);

void models_compared_free(ModelsCompared *w);

/* Rows: the recommended option of each model, then the one good under all. */
size_t models_compared_option(const ModelsCompared *w, size_t row);

/* Does each model's recommendation reach nine tenths of every other's own? */
bool models_compared_agree(const ModelsCompared *w);

#endif
