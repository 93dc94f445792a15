/* commands: see commands.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

StatusCode command_on_cases(const Call *call, bool need_event, Answer answer,
                            Status *status) {
    Desk d;
    Case *cases = NULL;
    size_t count = 0;
    StatusCode code = desk_open(call->question, call->notes, &d);
    if (code == STATUS_OK)
        code = desk_cases(&d, need_event, &cases, &count);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = answer(call, &d, cases, count, status);
    desk_free_cases(cases, count);
    desk_close(&d);
    return code;
}
