/* fit: an athlete's own model from performance tests, with its uncertainty and
 * whether it predicts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/progress.h"
#include "base/spool.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/models.h"
#include "commands/commands.h"
#include "output/fit_csv.h"
#include "output/fit_files.h"
#include "output/fit_pictures.h"
#include "output/fit_text.h"

#include <stdlib.h>

/* ---- the answer ---- */

static void print_fitted(const Call *call, const AthleteFit *f, FILE *to) {
    if (call->output.csv)
        fit_csv_print(f, to);
    else
        fit_text_print(f, to);
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

/* ---- with files: all athletes are kept for them ---- */

static StatusCode fit_all(const Call *call, Context *d, const Case *cases,
                          size_t count, AthleteFit *f, size_t *fitted,
                          Status *status) {
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes fitted", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        AthleteFit *next = &f[*fitted];
        progress_step(&progress, i);
        *next = (AthleteFit){.next = DATE_NONE};
        if (!athlete_fit_has_tests(d, &cases[i], &next->own))
            continue;
        (*fitted)++;
        code = athlete_fit_make(&cases[i], models_prior(d, &cases[i]), next,
                                status);
    }
    progress_end(&progress);
    if (*fitted == 0 && code == STATUS_OK)
        return refuse_none(call, d);
    return code == STATUS_OK ? notes_code(call->notes) : code;
}

static StatusCode fit_with_files(const Call *call, Context *d, Status *status) {
    Case *cases = NULL;
    size_t count = 0, fitted = 0;
    StatusCode code = each_cases(d, false, &cases, &count);
    AthleteFit *f = mem_new(count, sizeof *f);
    if (code == STATUS_OK)
        code = fit_all(call, d, cases, count, f, &fitted, status);
    call->say(call->notes);
    if (code == STATUS_OK) {
        fit_csv_header(&call->output);
        for (size_t i = 0; i < fitted; i++)
            print_fitted(call, &f[i], call->output.to);
        if (!call->output.csv)
            fit_text_foot(d, f[0].c, call->output.to);
        code = fit_files_write(&call->output, f, fitted, status);
    }
    if (code == STATUS_OK)
        code =
            output_draw(&call->output, &(Drawing){f, fitted, fit_pictures_draw},
                        "Pictures", status);
    for (size_t i = 0; i < fitted; i++)
        athlete_fit_free(&f[i]);
    free(f);
    case_free_all(cases, count);
    return code;
}

/* ---- without: athlete after athlete ---- */

typedef struct {
    EachAthlete one;
    Status status;
    bool fitted;
    Spool text;
} FitSlot;

typedef struct {
    const Call *call;
    Context *context;
    Case first;
    size_t fitted;
    Spool spool;
    Status *status;
} FitJob;

static void fit_work(void *with, EachAthlete *one) {
    const FitJob *job = with;
    FitSlot *slot = (FitSlot *)one;
    Context *d = &one->context;
    AthleteFit f = {.next = DATE_NONE};
    if (!athlete_fit_has_tests(d, &one->c, &f.own))
        return;
    slot->fitted = athlete_fit_make(&one->c, models_prior(d, &one->c), &f,
                                    &slot->status) == STATUS_OK;
    if (slot->fitted) {
        models_take_own(d, &one->c, &f.own, &f.posterior);
        print_fitted(job->call, &f, spool_open(&slot->text));
    }
    athlete_fit_free(&f);
}

static bool fit_take(void *with, EachAthlete *one) {
    FitJob *job = with;
    FitSlot *slot = (FitSlot *)one;
    if (slot->status.code != STATUS_OK && job->status->code == STATUS_OK)
        *job->status = slot->status;
    spool_move(&slot->text, &job->spool);
    if (slot->fitted && job->fitted++ == 0)
        each_keep(job->context, one, &job->first);
    return job->status->code == STATUS_OK;
}

static StatusCode fit_each(const Call *call, Context *d, Status *status) {
    FitJob job = {.call = call, .context = d, .status = status};
    EachJob each = {.doing = "athletes fitted",
                    .slot = sizeof(FitSlot),
                    .work = fit_work,
                    .take = fit_take,
                    .with = &job};
    StatusCode code;
    d->own_later = true;
    spool_file(&job.spool);
    code = each_run(d, &each);
    if (status->code != STATUS_OK)
        code = status->code;
    else if (job.fitted == 0 && code == STATUS_OK)
        code = refuse_none(call, d);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = spool_end(&job.spool, status);
    if (code == STATUS_OK) {
        fit_csv_header(&call->output);
        code = spool_print(&job.spool, call->output.to, status);
        if (!call->output.csv)
            fit_text_foot(d, &job.first, call->output.to);
    }
    spool_free(&job.spool);
    case_free(&job.first);
    return code;
}

StatusCode command_fit(const Call *call, Status *status) {
    Context d;
    StatusCode code = call->output.folder
                          ? context_open(call->question, call->notes, &d)
                          : context_open_each(call->question, call->notes, &d);
    if (code != STATUS_OK)
        call->say(call->notes);
    else if (call->output.folder)
        code = fit_with_files(call, &d, status);
    else
        code = fit_each(call, &d, status);
    context_close(&d);
    return code;
}
