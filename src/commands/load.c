/* load: daily and weekly load, monotony and strain.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "cases/context.h"
#include "commands/commands.h"
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

StatusCode command_load(const Call *call, Status *status) {
    Context d;
    StatusCode code = context_open(call->question, call->notes, &d);
    (void)status;
    if (code == STATUS_OK) {
        Daily *daily = mem_new(d.chosen_count, sizeof *daily);
        warn_unrecorded(&d, call->notes);
        for (size_t i = 0; i < d.chosen_count; i++) {
            const Athlete *a = &d.season->athletes[d.chosen[i]];
            Place place = {d.season->log_path, 0, "athlete"};
            char shown[TEXT_EXCERPT];
            if (a->session_count == 0)
                notes_add(call->notes, LEVEL_WARNING, place,
                          "%s has no sessions and is left out",
                          text_excerpt(shown, a->name));
        }
        for (size_t i = 0; i < d.chosen_count; i++)
            daily_build(d.season, d.chosen[i],
                        call->question->read.gaps_typical, &daily[i]);
        call->say(call->notes);
        load_text_present(&d, daily, &call->output);
        for (size_t i = 0; i < d.chosen_count; i++)
            daily_free(&daily[i]);
        free(daily);
    }
    context_close(&d);
    return code;
}
