/* commands: see commands.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "present/grid.h"
#include "present/progress.h"

#include <stdlib.h>

void call_header(const Call *call, const char *names) {
    if (!call->request->no_header)
        csv_header(call->to, names);
}

void call_list(const Call *call, const char *heading, const Text *paths) {
    fprintf(call->to, "\n%s:\n", heading);
    print_lines(call->to, text_of(paths));
}

StatusCode command_on_cases(const Call *call, bool need_event, Answer answer,
                            Status *status) {
    Desk d;
    Case *cases = NULL;
    size_t count = 0;
    StatusCode code = desk_open(call->request, call->notes, &d);
    if (code == STATUS_OK)
        code = desk_cases(&d, need_event, &cases, &count);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = answer(call, &d, cases, count, status);
    desk_free_cases(cases, count);
    desk_close(&d);
    return code;
}

StatusCode call_draw(const Call *call, const void *answers, size_t count,
                     DrawAnswer draw, const char *heading, Status *status) {
    Gallery gallery;
    char *scripts;
    Text paths = {0};
    Progress progress =
        progress_begin("athletes drawn", count, call->request->quiet);
    StatusCode code = desk_gallery(call->request, &gallery, &scripts, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = draw(answers, i, &gallery, &paths, status);
    }
    progress_end(&progress);
    if (code == STATUS_OK && !call->request->csv)
        call_list(call, heading, &paths);
    text_free(&paths);
    free(scripts);
    return code;
}
