/* context: see context.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/context.h"

#include "cases/athletes.h"
#include "cases/models.h"

#include <stdlib.h>

StatusCode context_open(const Question *question, Notes *notes, Context *d) {
    *d = (Context){.question = question, .notes = notes};
    d->season = season_read(question->season, &question->read, notes);
    if (notes->errors == 0)
        athletes_choose(d);
    if (question->parts && notes->errors == 0)
        athletes_choose_part(d);
    for (size_t i = 0; i < question->view_count && notes->errors == 0; i++)
        if (!text_same(question->views[i], "own"))
            models_named(d, question->views[i]);
    return notes_code(notes);
}

void context_close(Context *d) {
    models_free(d);
    free(d->chosen);
    free(d->assigned);
    free(d->assigned_before);
    season_free(d->season);
    *d = (Context){0};
}
