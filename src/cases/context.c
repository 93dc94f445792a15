/* context: see context.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/context.h"

#include "cases/athletes.h"
#include "cases/models.h"

#include <stdlib.h>

static StatusCode open_context(const Question *question, size_t held,
                               Notes *notes, Context *d) {
    SeasonOptions read = question->read;
    read.held = held;
    *d = (Context){.question = question, .notes = notes};
    d->season = season_read(question->season, &read, notes);
    if (notes->errors == 0)
        athletes_choose(d);
    if (question->parts && notes->errors == 0)
        athletes_choose_part(d);
    for (size_t i = 0; i < question->view_count && notes->errors == 0; i++)
        if (!text_same(question->views[i], "own"))
            models_named(d, question->views[i]);
    return notes_code(notes);
}

StatusCode context_open(const Question *question, Notes *notes, Context *d) {
    return open_context(question, 0, notes, d);
}

StatusCode context_open_each(const Question *question, Notes *notes,
                             Context *d) {
    const char *asked = getenv("PEAKWARD_HELD");
    size_t held = asked ? strtoul(asked, NULL, 10) : 0;
    return open_context(question, held ? held : 32 << 20, notes, d);
}

void context_close(Context *d) {
    models_free(d);
    free(d->chosen);
    season_free(d->season);
    *d = (Context){0};
}
