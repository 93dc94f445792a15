/* each: see each.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/each.h"

#include "base/crew.h"
#include "base/mem.h"
#include "base/progress.h"
#include "cases/athletes.h"
#include "cases/build.h"
#include "cases/events.h"
#include "cases/models.h"
#include "season/check.h"

#include <stdlib.h>
#include <string.h>

/* What the threads of a run share. */
typedef struct {
    Context *context;
    CaseModel **named; /* read before they begin */
    size_t named_count;
    const EachJob *each;
    Progress progress;
    size_t built, without_event;
    bool *short_of; /* [events] somebody has no day left before it */
    bool enough;
} Line;

typedef struct {
    Context *context;
    Case *cases;
    size_t count;
} Kept;

/* Models are read before the threads begin, each file once. */
static void read_models(Context *d, bool need) {
    for (size_t i = 0; i < d->chosen_count; i++) {
        size_t athlete = d->chosen[i];
        const char *asked = models_asked(d, athlete);
        if (d->season->athletes[athlete].session_count > 0 &&
            events_has(d, athlete, need))
            models_named(d, asked ? asked : "literature");
    }
}

static void work_on(void *with, size_t piece, void *slot) {
    Line *line = with;
    EachAthlete *one = slot;
    Context *d = &one->context;
    size_t athlete = line->context->chosen[piece];
    bool need = line->each->need_event;
    /* the rest of the common context changes as results are taken */
    *d = (Context){.question = line->context->question,
                   .notes = &one->notes,
                   .season = line->context->season,
                   .chosen = line->context->chosen,
                   .chosen_count = line->context->chosen_count,
                   .own_later = line->context->own_later,
                   .squad_prior = line->context->squad_prior,
                   .kept = line->context->kept,
                   .assigned = line->context->assigned,
                   .assigned_before = line->context->assigned_before,
                   .joint = line->context->joint,
                   .joint_kept = line->context->joint_kept,
                   .weighed = line->context->weighed,
                   .earlier = line->context->earlier,
                   .earlier_count = line->context->earlier_count,
                   .changed = line->context->changed,
                   .changed_count = line->context->changed_count};
    for (size_t i = 0; i < line->named_count; i++)
        models_add(d, line->named[i]);
    d->borrowed = d->model_count;
    if (!athletes_have_log(d, athlete))
        return;
    one->no_event = !events_has(d, athlete, need);
    if (one->no_event)
        return;
    one->built = build_case(d, athlete, &one->c);
    one->no_days = one->built && !events_leave_days(d, &one->c, need);
    one->built = one->built && !one->no_days;
    if (one->built && line->each->work)
        line->each->work(line->each->with, one);
}

static bool take_one(void *with, size_t piece, void *slot) {
    Line *line = with;
    EachAthlete *one = slot;
    progress_step(&line->progress, piece);
    /* how many were begun beyond the last hangs on the number of threads */
    if (!line->enough) {
        notes_move(&one->notes, line->context->notes);
        line->without_event += one->no_event;
        line->built += one->built;
        if (one->no_days)
            line->short_of[one->c.event - line->context->season->events] = true;
    }
    if (one->built && !line->each->take(line->each->with, one))
        line->enough = true;
    notes_free(&one->notes);
    models_free(&one->context);
    case_free(&one->c);
    return !line->enough;
}

CaseModel *each_model(EachAthlete *one) {
    Context *d = &one->context;
    CaseModel *own;
    if (one->c.model < d->borrowed)
        return NULL;
    own = d->models[one->c.model];
    d->models[one->c.model] = d->models[--d->model_count];
    return own;
}

void each_keep(Context *d, EachAthlete *one, Case *c) {
    CaseModel *own = each_model(one);
    *c = one->c;
    c->context = d;
    if (own) {
        models_add(d, own);
        c->model = d->model_count - 1;
    }
    for (size_t i = 0; i < d->question->view_count; i++)
        models_settled(d, c, case_view(c, i));
    one->c = (Case){.context = d};
}

StatusCode each_run(Context *d, const EachJob *each) {
    Place place = {d->season->log_path, 0, NULL};
    Line line = {.context = d, .each = each};
    Crew crew = {.pieces = d->chosen_count,
                 .threads = d->question->threads,
                 .slot = each->slot,
                 .work = work_on,
                 .take = take_one,
                 .with = &line};
    check_strangers(d->season, d->notes);
    read_models(d, each->need_event);
    if (d->notes->errors > 0) /* a model that is none: nothing to compute */
        return notes_code(d->notes);
    line.named_count = d->model_count;
    line.named = mem_new(d->model_count, sizeof *line.named);
    for (size_t i = 0; i < d->model_count; i++)
        line.named[i] = d->models[i];
    line.short_of = mem_new(d->season->event_count, sizeof *line.short_of);
    line.progress =
        progress_begin(each->doing, d->chosen_count, d->question->quiet);
    crew_run(&crew);
    progress_end(&line.progress);
    free(line.named);
    events_say_short(d, line.short_of, line.built > 0);
    free(line.short_of);
    if (line.built > 0 && line.without_event)
        events_leave_out(d, each->need_event);
    else if (d->notes->errors == 0 && line.without_event)
        events_refuse_none(d);
    else if (line.built == 0 && d->notes->errors == 0)
        notes_add(d->notes, LEVEL_ERROR, place,
                  "no athlete has what it takes (sessions, and days before "
                  "an event), expected one who has");
    return notes_code(d->notes);
}

static bool keep_case(void *with, EachAthlete *one) {
    Kept *kept = with;
    each_keep(kept->context, one, &kept->cases[kept->count++]);
    return true;
}

StatusCode each_cases(Context *d, bool need_event, Case **cases,
                      size_t *count) {
    Kept kept = {d, mem_new(d->chosen_count, sizeof **cases), 0};
    EachJob each = {.doing = "athletes read",
                    .need_event = need_event,
                    .slot = sizeof(EachAthlete),
                    .take = keep_case,
                    .with = &kept};
    StatusCode code = each_run(d, &each);
    *cases = kept.cases;
    *count = kept.count;
    return code;
}

void each_aside(Context *d, Context *aside, const EachJob *each) {
    Notes unsaid = {0};
    aside->notes = &unsaid;
    aside->borrowed = aside->model_room = d->model_count;
    aside->models = mem_new(d->model_count, sizeof *aside->models);
    if (d->model_count > 0)
        memcpy(aside->models, d->models,
               d->model_count * sizeof *aside->models);
    each_run(aside, each);
    models_free(aside);
    if (notes_code(&unsaid) == STATUS_SYSTEM)
        notes_move(&unsaid, d->notes);
    notes_free(&unsaid);
    aside->notes = NULL;
}

typedef struct {
    const Case *cases;
    EachBuild work;
    void *with;
    Status *status;
} Built;

static void build_one(void *with, size_t piece, void *slot) {
    const Built *b = with;
    b->work(b->with, &b->cases[piece], piece, slot);
}

static bool take_status(void *with, size_t piece, void *slot) {
    const Built *b = with;
    const Status *one = slot;
    (void)piece;
    if (b->status->code == STATUS_OK)
        *b->status = *one;
    return one->code == STATUS_OK;
}

StatusCode each_built(const Case *cases, size_t count, EachBuild work,
                      void *with, Status *status) {
    Built built = {cases, work, with, status};
    Crew crew = {.pieces = count,
                 .threads = count ? cases->context->question->threads : 1,
                 .slot = sizeof(Status),
                 .work = build_one,
                 .take = take_status,
                 .with = &built};
    crew_run(&crew);
    return status->code;
}
