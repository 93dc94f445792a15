/* A model file: what is read as a model can be run, and its landmarks are
 * numbers or unknown.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/draws.h"
#include "fuzz.h"
#include "response/kernel.h"
#include "response/landmarks.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

static void run_model(const Model *model) {
    double load[30], fitness[30], fatigue[30];
    Timeline t = {.steps = 30, .load = load, .before = 300, .before_age = 1};
    Landmarks marks = landmarks_of(&model->params);
    Draws draws;
    Status status = {0};
    for (int i = 0; i < 30; i++)
        load[i] = 100 * (i % 3);
    kernel_run(&model->params, &t, READ_BEFORE, fitness, fatigue);
    for (int i = 0; i < 30; i++)
        HOLDS(!isnan(fitness[i]) && !isnan(fatigue[i]));
    HOLDS(isnan(marks.t_n) || marks.t_n >= 0);
    if (draws_from_spreads(model, 64, 1, &draws, &status) == STATUS_OK)
        draws_free(&draws);
    else
        HOLDS(status.text[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static char path[64];
    Model model;
    Notes notes = {0};
    FILE *file;
    gsl_set_error_handler_off();
    if (!path[0])
        snprintf(path, sizeof path, "/tmp/peakward-fuzz-model-%ld.csv",
                 (long)getpid());
    file = fopen(path, "wb");
    if (!file)
        abort();
    fwrite(data, 1, size, file);
    fclose(file);
    if (model_read(path, &model, &notes)) {
        run_model(&model);
    } else {
        HOLDS(notes.errors > 0);
    }
    model_free(&model);
    notes_free(&notes);
    unlink(path);
    return 0;
}
