/* request: see request.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/request.h"

#include <stdlib.h>

void request_free(Request *r) {
    for (size_t i = 0; i < r->question.athlete_count; i++)
        free(r->question.athletes[i]);
    for (size_t i = 0; i < r->question.option_count; i++) {
        free(r->question.options[i].name);
        free(r->question.options[i].spec);
    }
    for (size_t i = 0; i < r->question.view_count; i++)
        free(r->question.views[i]);
    free(r->question.athletes);
    for (size_t i = 0; i < r->question.event_count; i++)
        free(r->question.events[i]);
    free(r->question.events);
    free(r->question.views);
    free(r->question.options);
    free(r->question.changes);
    free(r->question.season);
    free(r->question.model);
    free(r->question.blocks);
    free(r->lesson);
    free(r->design);
    free(r->question.event);
    free(r->out);
    free(r->from);
    free(r->page);
    free(r->answers);
    free(r->question.test);
    free(r->question.only_test);
    table_maps_free(&r->maps);
}

Output request_output(const Request *r, FILE *to) {
    return (Output){.to = to,
                    .csv = r->csv,
                    .no_header = r->no_header,
                    .notes = r->notes,
                    .sessions = r->sessions,
                    .event_week = r->event_week,
                    .quiet = r->question.quiet,
                    .folder = r->out,
                    .format = r->format};
}
