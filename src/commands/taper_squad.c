/* taper_squad: see taper_squad.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/taper_squad.h"

#include "base/mem.h"
#include "cases/each.h"
#include "output/squad_pictures.h"
#include "output/squad_text.h"

#include <stdlib.h>

/* One way through the squads: printing them, or drawing them. */
typedef struct {
    const Call *call;
    const Gallery *gallery; /* NULL: print */
    Text paths;
    size_t number; /* of the squad */
    bool groups;   /* some are known well enough for groups */
} Pass;

static StatusCode answer_event(Pass *pass, const SquadPlans *s,
                               Status *status) {
    Document doc = {0};
    pass->number++;
    pass->groups = pass->groups || s->count > 0;
    if (pass->gallery && s->count > 1)
        return squad_pictures_draw(s, pass->gallery, pass->number, &pass->paths,
                                   status);
    if (pass->gallery)
        return STATUS_OK;
    if (pass->call->output.csv) {
        squad_text_csv(s, pass->call->output.to);
        return STATUS_OK;
    }
    squad_text(s, &doc);
    output_part(&pass->call->output, &doc);
    return STATUS_OK;
}

static StatusCode answer_events(Pass *pass, const BestTaper *v, size_t count,
                                Status *status) {
    StatusCode code = STATUS_OK;
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        SquadPlans s;
        bool seen = false;
        for (size_t k = 0; k < i; k++)
            seen = seen || v[k].c->event == v[i].c->event;
        if (seen)
            continue;
        squad_plans_build(v, count, v[i].c->event, pass->call->question->groups,
                          &s);
        squad_plans_settle(&s);
        code = answer_event(pass, &s, status);
        squad_plans_free(&s);
    }
    return code;
}

static StatusCode draw_all(const Call *call, const BestTaper *v, size_t count,
                           Status *status) {
    Gallery gallery;
    Pass pass = {.call = call, .gallery = &gallery};
    char *scripts;
    StatusCode code = output_gallery(&call->output, &gallery, &scripts, status);
    if (code == STATUS_OK)
        code = answer_events(&pass, v, count, status);
    if (code == STATUS_OK && !call->output.csv && pass.paths.length)
        output_list(&call->output, "Pictures", &pass.paths);
    text_free(&pass.paths);
    free(scripts);
    return code;
}

static StatusCode build(void *with, const Case *c, size_t at, Status *status) {
    return best_taper_build(c, (BestTaper *)with + at, status);
}

StatusCode taper_squad_answer(const Call *call, const Context *d,
                              const Case *cases, size_t count, Status *status) {
    BestTaper *v = mem_new(count, sizeof *v);
    Pass pass = {.call = call};
    Document doc = {0};
    StatusCode code = STATUS_OK;
    (void)d;
    if (count < 2)
        code = status_fail(status, STATUS_DATA,
                           "--groups: only %s has a log and days before an "
                           "event, expected two athletes or more",
                           cases[0].name);
    if (code == STATUS_OK)
        code = each_built(cases, count, build, v, status);
    if (code == STATUS_OK && call->output.csv)
        squad_text_csv_header(&call->output);
    if (code == STATUS_OK)
        code = answer_events(&pass, v, count, status);
    if (code == STATUS_OK && !call->output.csv) {
        squad_text_foot(&v[0], pass.groups, &doc);
        output_document(&call->output, &doc);
    }
    if (code == STATUS_OK && call->output.folder)
        code = draw_all(call, v, count, status);
    for (size_t i = 0; i < count; i++)
        best_taper_free(&v[i]);
    free(v);
    return code;
}
