/* review: planned against done so far; after the event forecast against
 * outcome.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/review.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/squad_hear.h"
#include "commands/commands.h"
#include "output/review_pictures.h"
#include "output/review_text.h"

#include <stdlib.h>

/* The season as it was on a day, and its cases. */
static StatusCode look_back(Question *then, Notes *unsaid, Context *d,
                            Case **cases, size_t *count) {
    StatusCode code = context_open(then, unsaid, d);
    if (code == STATUS_OK) {
        review_forget_tests(d->season, then->read.today);
        squad_hear(d);
        code = each_cases(d, false, cases, count);
    }
    return code;
}

/* The event of the plan is asked for, as it was on the day of issue; and today,
 * unless it has begun. */
static void ask_event(const Context *now, Question *then, Question *is) {
    const Event *event = review_event(now);
    if (!then->event && event)
        then->event = event->name;
    if (then->event && event && event->start > now->season->today)
        is->event = then->event;
}

static StatusCode answer(const Call *call, Context *now, Question *today,
                         Status *status) {
    Question then = *call->question;
    Context past = {0};
    Notes unsaid = {0};
    Case *was = NULL, *is = NULL;
    size_t count = 0, count_now = 0;
    bool planned;
    Reviews reviews;
    StatusCode code;
    then.read.today = review_issued(now, &planned);
    then.carried = planned;
    ask_event(now, &then, today);
    squad_hear(now);
    each_cases(now, false, &is, &count_now);
    code = look_back(&then, &unsaid, &past, &was, &count);
    call->say(call->notes);
    if (code != STATUS_OK) {
        call->say(&unsaid);
        code = status_fail(status, code,
                           "the season as it was on the day of the plan cannot "
                           "be read");
    } else {
        review_make(now, is, count_now, was, count, planned, &reviews);
        if (call->output.csv)
            review_text_csv(&reviews, &call->output);
        else
            review_text(now, &reviews, &call->output);
        if (call->output.folder)
            code = output_draw(&call->output,
                               &(Drawing){&reviews, 1, review_pictures_draw},
                               "Pictures", status);
        review_free(&reviews);
    }
    case_free_all(was, count);
    case_free_all(is, count_now);
    context_close(&past);
    notes_free(&unsaid);
    return code;
}

StatusCode command_review(const Call *call, Status *status) {
    Context d;
    Question today = *call->question;
    StatusCode code;
    today.event = NULL;
    code = context_open(&today, call->notes, &d);
    if (code == STATUS_OK)
        code = answer(call, &d, &today, status);
    else
        call->say(call->notes);
    context_close(&d);
    return code;
}
