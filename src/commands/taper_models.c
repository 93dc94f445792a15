/* taper_models: see taper_models.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/taper_models.h"

#include "base/mem.h"
#include "output/models_text.h"

#include <stdlib.h>

StatusCode taper_models_answer(const Call *call, const Context *d,
                               const Case *cases, size_t count,
                               Status *status) {
    Document doc = {0};
    ModelsCompared *w = mem_new(count, sizeof *w);
    StatusCode code = STATUS_OK;
    (void)d;
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = models_compared_build(&cases[i], &w[i], status);
    if (code == STATUS_OK && call->output.csv) {
        models_text_csv_header(&call->output);
        for (size_t i = 0; i < count; i++)
            models_text_csv(&w[i], call->output.to);
    } else if (code == STATUS_OK) {
        for (size_t i = 0; i < count; i++) {
            models_text(&w[i], &doc);
            output_part(&call->output, &doc);
        }
        models_text_foot(w, &doc);
        output_document(&call->output, &doc);
    }
    for (size_t i = 0; i < count; i++)
        models_compared_free(&w[i]);
    free(w);
    return code;
}
