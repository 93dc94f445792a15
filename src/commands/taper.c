/* taper: which length, cut and shape is best for the event, and which are as
 * good.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/changed.h"
#include "answers/earlier_tapers.h"
#include "answers/joint_record.h"
#include "answers/squad_tapers.h"
#include "base/mem.h"
#include "base/spool.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/squad_hear.h"
#include "commands/taper_joint.h"
#include "commands/taper_models.h"
#include "commands/taper_squad.h"
#include "output/changed_text.h"
#include "output/taper_csv.h"
#include "output/taper_pictures.h"
#include "output/taper_text.h"

#include <stdlib.h>

typedef struct {
    EachAthlete one;
    Status status;
    BestTaper taper;
    Spool text;
} TaperSlot;

typedef struct {
    const Call *call;
    Context *context;
    bool whole;  /* all that is known of each athlete is kept: for pictures, and
                    to compare with the days as they were */
    Spool spool; /* of --csv */
    Case *cases; /* of a table: those after the first slim */
    BestTaper *v;
    size_t count;
    Status *status;
} TaperJob;

static void taper_work(void *with, EachAthlete *one) {
    const TaperJob *job = with;
    TaperSlot *slot = (TaperSlot *)one;
    BestTaper *v = &slot->taper;
    if (best_taper_build(&one->c, v, &slot->status) == STATUS_OK &&
        job->call->output.csv)
        taper_csv_print(v, spool_open(&slot->text));
    if (slot->status.code != STATUS_OK ||
        (job->call->output.csv && !job->whole))
        best_taper_free(v);
}

static void keep_taper(TaperJob *job, TaperSlot *slot) {
    Case *c = &job->cases[job->count];
    BestTaper *v = &job->v[job->count++];
    each_keep(job->context, &slot->one, c);
    best_taper_move(&slot->taper, c, v);
    if (job->count == 1 || job->whole)
        return;
    best_taper_slim(v, best_taper_where(&v->search, best_taper_published));
    case_slim(c);
}

static bool taper_take(void *with, EachAthlete *one) {
    TaperJob *job = with;
    TaperSlot *slot = (TaperSlot *)one;
    if (slot->status.code != STATUS_OK && job->status->code == STATUS_OK)
        *job->status = slot->status;
    if (slot->status.code == STATUS_OK &&
        (job->whole || !job->call->output.csv))
        keep_taper(job, slot);
    spool_move(&slot->text, &job->spool);
    return job->status->code == STATUS_OK;
}

static StatusCode print_csv(TaperJob *job, Status *status) {
    const Output *o = &job->call->output;
    if (spool_end(&job->spool, status) != STATUS_OK)
        return status->code;
    taper_csv_header(o);
    return spool_print(&job->spool, o->to, status);
}

static StatusCode print_text(TaperJob *job, Status *status) {
    const Output *o = &job->call->output;
    Document doc = {0};
    StatusCode code = changed_text_print(job->v, job->count, o->to, status);
    if (code != STATUS_OK)
        return code;
    taper_text(job->context, job->v, job->count, &doc);
    output_document(o, &doc);
    return code;
}

static StatusCode present(TaperJob *job, Status *status) {
    const Output *o = &job->call->output;
    StatusCode code = o->csv ? print_csv(job, status) : print_text(job, status);
    if (code == STATUS_OK && o->folder)
        code =
            output_draw(o, &(Drawing){job->v, job->count, taper_pictures_draw},
                        "Pictures", status);
    return code;
}

static StatusCode answer(const Call *call, Context *d, Status *status) {
    const Question *q = call->question;
    TaperJob job = {.call = call,
                    .context = d,
                    .whole = call->output.folder || changed_asked(q),
                    .status = status};
    EachJob each = {.doing = "athletes searched",
                    .need_event = true,
                    .slot = sizeof(TaperSlot),
                    .work = taper_work,
                    .take = taper_take,
                    .with = &job};
    StatusCode code;
    job.cases = mem_new(d->chosen_count, sizeof *job.cases);
    job.v = mem_new(d->chosen_count, sizeof *job.v);
    spool_file(&job.spool);
    code = each_run(d, &each);
    if (status->code != STATUS_OK && code == STATUS_OK)
        code = status->code;
    call->say(call->notes);
    if (code == STATUS_OK)
        code = present(&job, status);
    for (size_t i = 0; i < job.count; i++)
        best_taper_free(&job.v[i]);
    free(job.v);
    spool_free(&job.spool);
    case_free_all(job.cases, job.count);
    return code;
}

StatusCode command_taper(const Call *call, Status *status) {
    const Question *q = call->question;
    Answer other = q->joint        ? taper_joint_answer
                   : q->view_count ? taper_models_answer
                   : q->groups     ? taper_squad_answer
                                   : NULL;
    StatusCode code;
    Context d;
    if (other && q->groups)
        return command_on_squad(call, true, other, status);
    if (other)
        return command_on_cases(call, true, other, status);
    code = context_open(q, call->notes, &d);
    if (code == STATUS_OK) {
        EarlierTaper *earlier;
        squad_hear(&d);
        earlier = earlier_tapers_find(&d);
        squad_tapers_decide(&d);
        joint_record_find(&d);
        code = answer(call, &d, status);
        free(earlier);
    } else
        call->say(call->notes);
    context_close(&d);
    return code;
}
