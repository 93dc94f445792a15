/* experiment_text: an experiment as a table for statistics, one row a run, and
 * as a summary for people.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EXPERIMENT_TEXT_H
#define OUTPUT_EXPERIMENT_TEXT_H

#include "answers/experiment.h"
#include "output/output.h"

typedef struct {
    const ExperimentTask *task;
    const Output *output;
    const char *version;
} ExperimentRows;

void experiment_text_header(const Output *output);
/* An ExperimentTake; `rows` is an ExperimentRows. */
void experiment_text_row(void *rows, const ExperimentRun *run,
                         const ExperimentSum *sum);

/* What tells a combination from the others: its taper, and the factors of
 * which there are several values; appended. */
void experiment_text_name(const Design *design, size_t at, Text *name);
void experiment_text(const ExperimentTask *task, const ExperimentSum *sums,
                     Document *doc);

#endif
