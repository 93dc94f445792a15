/* report: one HTML page for the squad or one athlete: who is how fit for the
 * event, what to do, and how sure that is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/look_back.h"
#include "answers/plan_handed.h"
#include "base/mem.h"
#include "base/progress.h"
#include "cases/context.h"
#include "cases/squad_hear.h"
#include "commands/commands.h"
#include "output/plan_csv.h"
#include "output/report_file.h"
#include "output/review_text.h"
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

/* For its workbook. */
static void print_rows(const Report *r, const Output *o) {
    if (r->count > 0)
        plan_csv(r->plans, r->count, o);
    else
        review_text_csv(r->reviews, o);
}

/* Of the season: its plans, or its event that is over. */
static StatusCode write_page(Report *r, const Call *call, Status *status) {
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("plans made", r->count, call->output.quiet);
    r->plans = mem_new(r->count, sizeof *r->plans);
    for (size_t i = 0; i < r->count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = plan_make(&r->cases[i], &r->plans[i], status);
        if (code == STATUS_OK && !call->output.csv)
            plan_handed_take(&r->plans[i]);
    }
    progress_end(&progress);
    gather_notes(r);
    if (code == STATUS_OK && !call->output.csv)
        code = report_file_write(r, status);
    else if (code == STATUS_OK)
        print_rows(r, &call->output);
    notes_free(&r->notes);
    for (size_t i = 0; i < r->count; i++)
        plan_free(&r->plans[i]);
    free(r->plans);
    return code;
}

/* A plan handed out before today is looked back on. */
static StatusCode answer(const Call *call, const Context *d, const Case *cases,
                         size_t count, Status *status) {
    Report r = {
        .output = &call->output, .context = d, .cases = cases, .count = count};
    bool planned;
    Date issued = review_issued(d, &planned);
    LookBack back;
    Notes unsaid = {0};
    StatusCode code;
    if (call->question->ignore_plan || !planned || issued >= d->season->today)
        return write_page(&r, call, status);
    code = look_back_make(d, &unsaid, &back, status);
    r.reviews = &back.reviews;
    if (code == STATUS_OK)
        code = write_page(&r, call, status);
    look_back_free(&back);
    notes_free(&unsaid);
    return code;
}

/* An event that is over, and none to come. */
static StatusCode answer_over(const Call *call, Context *d, Status *status) {
    Report r = {.output = &call->output, .context = d};
    LookBack back;
    StatusCode code;
    squad_hear(d);
    code = look_back_make(d, call->notes, &back, status);
    call->say(code == STATUS_OK ? call->notes : &back.unsaid);
    r.reviews = &back.reviews;
    if (code == STATUS_OK)
        code = write_page(&r, call, status);
    look_back_free(&back);
    return code;
}

StatusCode command_report(const Call *call, Status *status) {
    Context d;
    Question question = *call->question;
    StatusCode code = context_open(&question, call->notes, &d);
    if (code != STATUS_OK)
        call->say(call->notes);
    else if (review_over(&d)) {
        question.older_plans = true;
        context_older_plans(&d);
        code = answer_over(call, &d, status);
    } else
        code = command_on_open(call, &d, true, true, answer, status);
    context_close(&d);
    return code;
}
