/* look_back: see look_back.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/look_back.h"

#include "cases/context.h"
#include "cases/each.h"
#include "cases/models.h"
#include "cases/squad_hear.h"

/* The event of the plan is asked for, as it was on the day of issue; and today,
 * unless it has begun. */
static void ask(const Context *d, LookBack *b, bool *planned) {
    const Event *event = review_event(d);
    b->then = b->now = *d->question;
    b->then.read.today = review_issued(d, planned);
    b->then.carried = b->then.as_issued = *planned;
    b->now.carried = true;
    b->now.event = NULL;
    if (!b->then.event && event)
        b->then.event = event->name;
    if (b->then.event && event && event->start > d->season->today)
        b->now.event = b->then.event;
}

static StatusCode read_past(LookBack *b) {
    StatusCode code = context_open(&b->then, &b->unsaid, &b->past);
    if (code == STATUS_OK) {
        review_forget(b->past.season, b->then.read.today);
        squad_hear(&b->past);
        code = each_cases(&b->past, false, &b->was, &b->was_count);
    }
    return code;
}

StatusCode look_back_make(const Context *d, Notes *notes, LookBack *b,
                          Status *status) {
    StatusCode code;
    bool planned;
    *b = (LookBack){.present = *d};
    ask(d, b, &planned);
    b->present.question = &b->now;
    b->present.notes = notes;
    b->present.models = NULL;
    b->present.model_count = b->present.model_room = b->present.borrowed = 0;
    code = each_cases(&b->present, false, &b->is, &b->is_count);
    if (code == STATUS_SYSTEM) /* else who has no case now has one then */
        return code;
    code = read_past(b);
    if (code != STATUS_OK)
        return status_fail(status, code,
                           "the season as it was on the day of the plan cannot "
                           "be read");
    review_make(&b->present, b->is, b->is_count, b->was, b->was_count, planned,
                &b->reviews);
    return STATUS_OK;
}

void look_back_free(LookBack *b) {
    review_free(&b->reviews);
    case_free_all(b->was, b->was_count);
    case_free_all(b->is, b->is_count);
    models_free(&b->present);
    context_close(&b->past);
    notes_free(&b->unsaid);
}
