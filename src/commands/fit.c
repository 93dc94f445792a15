/* fit: an athlete's own model from performance tests, with its uncertainty and
 * whether it predicts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/spool.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/models.h"
#include "cases/squad_hear.h"
#include "commands/commands.h"
#include "output/fit_csv.h"
#include "output/fit_files.h"
#include "output/fit_pictures.h"
#include "output/fit_text.h"

#include <stdlib.h>

static void print_fitted(const Call *call, const AthleteFit *f, FILE *to) {
    if (call->output.csv)
        fit_csv_print(f, to);
    else
        fit_text_print(f, call->output.notes, to);
}

static StatusCode refuse_none(const Call *call, const Context *d) {
    Place place = {d->season->folder, 0, NULL};
    notes_add(call->notes, LEVEL_ERROR, place,
              "no athlete has tests%s%s to fit; expected rows in "
              "tests.csv on days of a log whose load varies",
              call->question->test ? " named " : "",
              call->question->test ? call->question->test : "");
    return notes_code(call->notes);
}

/* ---- athlete after athlete ---- */

typedef struct {
    EachAthlete one;
    Status status;
    bool fitted;
    AthleteFit fit;
    Spool text;
} FitSlot;

typedef struct {
    const Call *call;
    Context *context;
    Case *cases;     /* with files of all, else of the first for the foot */
    AthleteFit *fit; /* with files */
    size_t fitted, kept;
    Spool spool;
    FitLines lines; /* of a squad */
    Status *status;
} FitJob;

/* Is a squad answered in one table? */
static bool in_a_table(const FitJob *job) {
    return job->context->chosen_count > 1 && !job->call->output.csv;
}

static void fit_work(void *with, EachAthlete *one) {
    const FitJob *job = with;
    FitSlot *slot = (FitSlot *)one;
    AthleteFit *f = &slot->fit;
    Context *d = &one->context;
    f->next = DATE_NONE;
    if (!athlete_fit_has_tests(d, &one->c, &f->own))
        return;
    slot->fitted = athlete_fit_make(d, &one->c, models_prior(d, &one->c), f,
                                    &slot->status) == STATUS_OK;
    if (!slot->fitted)
        return;
    models_take_own(d, &one->c, &f->own,
                    f->graded ? &f->family : &f->posterior);
    if (!in_a_table(job) || job->call->output.notes)
        print_fitted(job->call, f, spool_open(&slot->text));
}

static void keep_fit(FitJob *job, FitSlot *slot) {
    Case *c = &job->cases[job->kept];
    each_keep(job->context, &slot->one, c);
    job->fit[job->kept] = slot->fit;
    job->fit[job->kept++].c = c;
    slot->fit = (AthleteFit){.next = DATE_NONE};
}

static bool fit_take(void *with, EachAthlete *one) {
    FitJob *job = with;
    FitSlot *slot = (FitSlot *)one;
    if (slot->status.code != STATUS_OK && job->status->code == STATUS_OK)
        *job->status = slot->status;
    spool_move(&slot->text, &job->spool);
    if (slot->fitted && in_a_table(job))
        fit_text_add(&slot->fit, &job->lines);
    if (slot->fitted && job->call->output.folder)
        keep_fit(job, slot);
    else if (slot->fitted && job->fitted == 0)
        each_keep(job->context, one, &job->cases[0]);
    job->fitted += slot->fitted;
    athlete_fit_free(&slot->fit);
    return job->status->code == STATUS_OK;
}

static StatusCode print_job(FitJob *job, Status *status) {
    const Output *o = &job->call->output;
    StatusCode code = spool_end(&job->spool, status);
    if (code != STATUS_OK)
        return code;
    fit_csv_header(o);
    if (in_a_table(job))
        fit_text_squad(&job->lines, o);
    code = spool_print(&job->spool, o->to, status);
    if (!o->csv)
        fit_text_foot(&job->cases[0], o);
    if (code == STATUS_OK && o->folder)
        code = fit_files_write(o, job->fit, job->kept, status);
    if (code == STATUS_OK && o->folder)
        code =
            output_draw(o, &(Drawing){job->fit, job->kept, fit_pictures_draw},
                        "Pictures", status);
    return code;
}

static void free_job(FitJob *job) {
    for (size_t i = 0; i < job->kept; i++)
        athlete_fit_free(&job->fit[i]);
    free(job->fit);
    case_free_all(job->cases, job->kept ? job->kept : 1);
    spool_free(&job->spool);
    fit_text_lines_free(&job->lines);
}

static StatusCode answer(const Call *call, Context *d, Status *status) {
    FitJob job = {.call = call, .context = d, .status = status};
    EachJob each = {.doing = "athletes fitted",
                    .slot = sizeof(FitSlot),
                    .work = fit_work,
                    .take = fit_take,
                    .with = &job};
    StatusCode code;
    d->own_later = true;
    job.cases = mem_new(d->chosen_count + 1, sizeof *job.cases);
    job.fit = mem_new(d->chosen_count, sizeof *job.fit);
    spool_file(&job.spool);
    code = each_run(d, &each);
    if (status->code != STATUS_OK)
        code = status->code;
    else if (job.fitted == 0 && code == STATUS_OK)
        code = refuse_none(call, d);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = print_job(&job, status);
    free_job(&job);
    return code;
}

StatusCode command_fit(const Call *call, Status *status) {
    Context d;
    StatusCode code = context_open(call->question, call->notes, &d);
    if (code == STATUS_OK) {
        squad_hear(&d);
        code = answer(call, &d, status);
    } else {
        call->say(call->notes);
    }
    context_close(&d);
    return code;
}
