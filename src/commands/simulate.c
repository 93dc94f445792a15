/* simulate: fitness, fatigue and readiness for each day, with intervals.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/best_taper.h"
#include "base/mem.h"
#include "commands/commands.h"
#include "output/curves_picture.h"
#include "output/simulate_text.h"

#include <stdlib.h>

/* The taper to simulate: --option, else none. */
static StatusCode choose_option(const Case *c, Option *option, Status *status) {
    const Question *q = c->context->question;
    bool asked;
    BestTaper taper;
    StatusCode code;
    *option = (Option){.count = 0};
    if (q->option_count == 0)
        return STATUS_OK;
    asked = text_same(q->options[0].spec, "best") ||
            text_same(q->options[0].spec, "recommended");
    if (!asked) {
        char why[OPTION_WHY];
        option_read(q->options[0].spec, option, why);
        return STATUS_OK;
    }
    code = best_taper_build(c, &taper, status);
    if (code == STATUS_OK)
        *option = best_taper_option(&taper.search, q->options[0].spec);
    best_taper_free(&taper);
    return code;
}

/* To the event's last day, or the log's. */
static size_t days_shown(const Case *c) {
    if (!c->event)
        return c->outlook.days;
    return c->outlook.event_day + c->outlook.event_days;
}

static StatusCode draw_one(const void *answers, size_t at,
                           const Gallery *gallery, Text *paths,
                           Status *status) {
    return curves_picture_draw((const Curves *)answers + at, "season", gallery,
                               paths, status);
}

static void print(const Output *o, const Case *cases, const Curves *v,
                  size_t count) {
    Document doc = {0};
    if (o->csv)
        simulate_text_csv_header(o);
    for (size_t i = 0; i < count && o->csv; i++)
        simulate_text_csv(&cases[i], &v[i], o->to);
    if (o->csv)
        return;
    for (size_t i = 0; i < count; i++) {
        simulate_text(&cases[i], &v[i], &doc);
        output_part(o, &doc);
    }
    simulate_text_foot(&cases[0], &doc);
    output_document(o, &doc);
}

static StatusCode answer(const Call *call, const Context *d, const Case *cases,
                         size_t count, Status *status) {
    Curves *v = mem_new(count, sizeof *v);
    StatusCode code = STATUS_OK;
    (void)d;
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Option option;
        code = choose_option(&cases[i], &option, status);
        curves_build(&cases[i], &option, call->question->when,
                     days_shown(&cases[i]), &v[i]);
    }
    if (code == STATUS_OK)
        print(&call->output, cases, v, count);
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(&call->output, &(Drawing){v, count, draw_one},
                           "Pictures", status);
    for (size_t i = 0; i < count; i++)
        curves_free(&v[i]);
    free(v);
    return code;
}

StatusCode command_simulate(const Call *call, Status *status) {
    const Question *q = call->question;
    const char *spec = q->option_count > 0 ? q->options[0].spec : "none";
    bool tapers = !text_same(spec, "none"); /* on the way to an event */
    return text_same(spec, "recommended")
               ? command_on_squad(call, tapers, answer, status)
               : command_on_cases(call, tapers, answer, status);
}
