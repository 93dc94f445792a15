/* experiment_season: the first squad of an experiment that is advised, as a
 * season folder, so that every command can be asked about it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_EXPERIMENT_SEASON_H
#define OUTPUT_EXPERIMENT_SEASON_H

#include "answers/experiment.h"
#include "output/output.h"

/* Into the folder first-squad of the output's; lists the files. Nothing where
 * nobody is advised. */
StatusCode experiment_season_write(const Output *output,
                                   const ExperimentTask *task, Status *status);

#endif
