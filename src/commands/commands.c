/* commands: see commands.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "answers/squad_tapers.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/squad_hear.h"

static StatusCode run(const Call *call, bool need_event, bool together,
                      Answer answer, Status *status) {
    Context d;
    Case *cases = NULL;
    size_t count = 0;
    StatusCode code = context_open(call->question, call->notes, &d);
    if (code == STATUS_OK)
        squad_hear(&d);
    if (code == STATUS_OK && together)
        squad_tapers_decide(&d);
    if (code == STATUS_OK)
        code = each_cases(&d, need_event, &cases, &count);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = answer(call, &d, cases, count, status);
    case_free_all(cases, count);
    context_close(&d);
    return code;
}

StatusCode command_on_cases(const Call *call, bool need_event, Answer answer,
                            Status *status) {
    return run(call, need_event, false, answer, status);
}

StatusCode command_on_squad(const Call *call, bool need_event, Answer answer,
                            Status *status) {
    return run(call, need_event, true, answer, status);
}
