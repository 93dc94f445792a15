/* commands: see commands.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "answers/earlier_tapers.h"
#include "answers/joint_squad.h"
#include "answers/squad_tapers.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/squad_hear.h"

#include <stdlib.h>

StatusCode command_on_open(const Call *call, Context *d, bool together,
                           bool need_event, Answer answer, Status *status) {
    Case *cases = NULL;
    size_t count = 0;
    StatusCode code;
    EarlierTaper *earlier;
    squad_hear(d);
    earlier = earlier_tapers_find(d);
    if (d->question->joint)
        joint_squad_decide(d);
    else if (together)
        squad_tapers_decide(d);
    code = each_cases(d, need_event, &cases, &count);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = answer(call, d, cases, count, status);
    case_free_all(cases, count);
    free(earlier);
    return code;
}

static StatusCode run(const Call *call, bool together, bool need_event,
                      Answer answer, Status *status) {
    Context d;
    StatusCode code = context_open(call->question, call->notes, &d);
    if (code == STATUS_OK)
        code = command_on_open(call, &d, together, need_event, answer, status);
    else
        call->say(call->notes);
    context_close(&d);
    return code;
}

StatusCode command_on_cases(const Call *call, bool need_event, Answer answer,
                            Status *status) {
    return run(call, false, need_event, answer, status);
}

StatusCode command_on_squad(const Call *call, bool need_event, Answer answer,
                            Status *status) {
    return run(call, true, need_event, answer, status);
}
