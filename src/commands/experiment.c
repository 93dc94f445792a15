/* experiment: virtual athletes under tapers, with their truth known.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "commands/commands.h"
#include "output/experiment_pictures.h"
#include "output/experiment_season.h"
#include "output/experiment_text.h"

#include <math.h>
#include <stdlib.h>

static void no_row(void *with, const ExperimentRun *run,
                   const ExperimentSum *sum) {
    (void)with;
    (void)run;
    (void)sum;
}

static StatusCode answer(const Call *call, const ExperimentTask *task,
                         Status *status) {
    ExperimentSum *sums =
        mem_new(design_combinations(task->design), sizeof *sums);
    ExperimentRows rows = {task, &call->output, VERSION};
    StatusCode code;
    if (call->output.csv)
        experiment_text_header(&call->output);
    code = experiment_run(task, call->output.csv ? experiment_text_row : no_row,
                          &rows, sums, status);
    if (code == STATUS_OK && !call->output.csv) {
        Document doc = {0};
        experiment_text(task, sums, &doc);
        output_document(&call->output, &doc);
    }
    if (code == STATUS_OK && call->output.folder) {
        const ExperimentOutcome outcome = {task, sums};
        code = output_draw(&call->output,
                           &(Drawing){&outcome, 1, experiment_pictures_draw},
                           "Pictures", status);
    }
    if (code == STATUS_OK && call->output.folder)
        code = experiment_season_write(&call->output, task, status);
    free(sums);
    return code;
}

StatusCode command_experiment(const Call *call, Status *status) {
    const Question *q = call->question;
    Design design;
    ExperimentTask task = {.design = &design,
                           .athletes = call->request->virtual_athletes,
                           .part = q->part,
                           .parts = q->parts,
                           .seed = q->seed,
                           .threads = q->threads,
                           .quiet = call->output.quiet};
    Text why = {0};
    StatusCode code;
    design_read(&design, call->request->design, call->notes);
    code = notes_code(call->notes);
    if (code == STATUS_OK)
        design_judge(&design, call->notes);
    call->say(call->notes);
    if (code == STATUS_OK && experiment_too_many(&task, &why))
        code = status_fail(status, STATUS_DATA, "%s", text_of(&why));
    if (code == STATUS_OK)
        code = answer(call, &task, status);
    text_free(&why);
    design_free(&design);
    return code;
}
