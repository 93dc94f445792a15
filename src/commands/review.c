/* review: planned against done so far; after the event forecast against
 * outcome.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/look_back.h"
#include "cases/context.h"
#include "cases/squad_hear.h"
#include "commands/commands.h"
#include "output/review_pictures.h"
#include "output/review_text.h"

static StatusCode present(const Call *call, const Context *d,
                          const Reviews *reviews, Status *status) {
    if (call->output.csv)
        review_text_csv(reviews, &call->output);
    else
        review_text(d, reviews, &call->output);
    if (!call->output.folder)
        return STATUS_OK;
    return output_draw(&call->output,
                       &(Drawing){reviews, 1, review_pictures_draw}, "Pictures",
                       status);
}

StatusCode command_review(const Call *call, Status *status) {
    Context d;
    LookBack back;
    Question question = *call->question;
    StatusCode code;
    question.older_plans = true;
    code = context_open(&question, call->notes, &d);
    if (code == STATUS_OK) {
        squad_hear(&d);
        code = look_back_make(&d, call->notes, &back, status);
        call->say(call->notes);
        if (code == STATUS_OK)
            code = present(call, &d, &back.reviews, status);
        else
            call->say(&back.unsaid);
        look_back_free(&back);
    } else
        call->say(call->notes);
    context_close(&d);
    return code;
}
