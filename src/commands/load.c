/* load: daily and weekly load, monotony and strain.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "cases/context.h"
#include "commands/commands.h"
#include "output/ahead_text.h"
#include "output/load_text.h"

#include <stdlib.h>

/* `load` shows what is there, so a session without a load is a warning here. */
static void warn_unrecorded(const Context *d, Notes *notes) {
    Notes errors = {0};
    for (size_t i = 0; i < d->chosen_count; i++)
        season_require_loads(d->season, d->chosen[i], &errors);
    for (size_t i = 0; i < errors.count; i++) {
        const Note *n = &errors.items[i];
        Place place = {n->file, n->line, n->column};
        notes_add(notes, LEVEL_WARNING, place, "%s", n->text);
    }
    notes->dropped += errors.dropped;
    notes_free(&errors);
}

static void name_empty(const Context *d, Notes *notes) {
    for (size_t i = 0; i < d->chosen_count; i++) {
        const Athlete *a = &d->season->athletes[d->chosen[i]];
        Place place = {d->season->log_path, 0, "athlete"};
        char shown[TEXT_EXCERPT];
        if (a->session_count == 0)
            notes_add(notes, LEVEL_WARNING, place,
                      "%s has no sessions and is left out",
                      text_excerpt(shown, a->name));
    }
}

/* The weeks to come. */
static StatusCode show_ahead(const Context *d, const Daily *daily,
                             const Call *call) {
    WeeksAhead *ahead = mem_new(d->chosen_count, sizeof *ahead);
    size_t errors = call->notes->errors;
    for (size_t i = 0; i < d->chosen_count; i++) {
        Usual usual;
        usual_build(d->season, d->chosen[i], &daily[i], &usual, call->notes);
        usual.handed = !d->question->ignore_plan;
        weeks_ahead_make(&usual, &daily[i], &ahead[i]);
        usual_free(&usual);
    }
    call->say(call->notes);
    if (call->notes->errors == errors)
        ahead_text_present(d, ahead, &call->output);
    for (size_t i = 0; i < d->chosen_count; i++)
        weeks_ahead_free(&ahead[i]);
    free(ahead);
    return call->notes->errors == errors ? STATUS_OK : STATUS_DATA;
}

StatusCode command_load(const Call *call, Status *status) {
    Context d;
    StatusCode code = context_open(call->question, call->notes, &d);
    (void)status;
    if (code == STATUS_OK) {
        Daily *daily = mem_new(d.chosen_count, sizeof *daily);
        warn_unrecorded(&d, call->notes);
        name_empty(&d, call->notes);
        for (size_t i = 0; i < d.chosen_count; i++)
            daily_build(d.season, d.chosen[i],
                        call->question->read.gaps_typical, &daily[i]);
        if (d.question->ahead) {
            code = show_ahead(&d, daily, call);
        } else {
            call->say(call->notes);
            load_text_present(&d, daily, &call->output);
        }
        for (size_t i = 0; i < d.chosen_count; i++)
            daily_free(&daily[i]);
        free(daily);
    }
    context_close(&d);
    return code;
}
