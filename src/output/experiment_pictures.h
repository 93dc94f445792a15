/* experiment_pictures: the true gain by taper, and claimed against true.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EXPERIMENT_PICTURES_H
#define OUTPUT_EXPERIMENT_PICTURES_H

#include "answers/experiment.h"
#include "present/plot.h"

typedef struct {
    const ExperimentTask *task;
    const ExperimentSum *sums; /* of all combinations */
} ExperimentOutcome;

/* true-gain and claimed-gain, of the first 16 combinations (said so). `outcome`
 * is an ExperimentOutcome. */
StatusCode experiment_pictures_draw(const void *outcome, size_t at,
                                    const Gallery *gallery, Text *paths,
                                    Status *status);

#endif
