/* models: the model files at hand, with half-lives, t_n and t_g.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"
#include "output/shelf_text.h"

StatusCode command_models(const Call *call, Status *status) {
    Shelf shelf = {0};
    StatusCode code;
    shelf_read(&shelf, call->question->model, call->notes);
    code = notes_code(call->notes);
    call->say(call->notes);
    if (code == STATUS_OK) {
        Document doc = {0};
        if (call->output.csv)
            shelf_text_csv(&shelf, call->output.to);
        else
            shelf_text(&shelf, &doc);
        output_document(&call->output, &doc);
    }
    if (code == STATUS_OK && call->output.folder)
        code = shelf_text_draw(&shelf, &call->output, status);
    shelf_free(&shelf);
    return code;
}
