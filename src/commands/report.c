/* report: one HTML page for the squad or one athlete: who is how fit for the
 * event, what to do, and how sure that is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/progress.h"
#include "commands/commands.h"
#include "output/report_file.h"
#include "season/check.h"

#include <stdlib.h>
#include <string.h>

static bool told(const Notes *notes, const char *text) {
    for (size_t i = 0; i < notes->count; i++)
        if (strcmp(notes->items[i].text, text) == 0)
            return true;
    return false;
}

/* Warnings that are not told yet. */
static void add_notes(const Notes *from, Notes *to) {
    for (size_t i = 0; i < from->count; i++) {
        const Note *n = &from->items[i];
        Place place = {n->file, n->line, n->column};
        if (n->level == LEVEL_WARNING && !told(to, n->text))
            notes_add(to, n->level, place, "%s", n->text);
    }
}

/* What was said while the season was read and the plans were made, and what
 * check finds. */
static void gather_notes(Report *r) {
    Notes checked = {0};
    add_notes(r->context->notes, &r->notes);
    check_season(r->context->season, &checked);
    add_notes(&checked, &r->notes);
    notes_free(&checked);
}

static StatusCode answer(const Call *call, const Context *d, const Case *cases,
                         size_t count, Status *status) {
    Report r = {
        .output = &call->output, .context = d, .cases = cases, .count = count};
    StatusCode code = STATUS_OK;
    Progress progress = progress_begin("plans made", count, call->output.quiet);
    r.plans = mem_new(count, sizeof *r.plans);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = plan_make(&cases[i], &r.plans[i], status);
    }
    progress_end(&progress);
    gather_notes(&r);
    if (code == STATUS_OK)
        code = report_file_write(&r, status);
    notes_free(&r.notes);
    for (size_t i = 0; i < count; i++)
        plan_free(&r.plans[i]);
    free(r.plans);
    return code;
}

StatusCode command_report(const Call *call, Status *status) {
    return command_on_squad(call, true, answer, status);
}
