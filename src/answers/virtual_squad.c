/* virtual_squad: see virtual_squad.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/virtual_squad.h"

#include "answers/best_taper.h"
#include "answers/squad_tapers.h"
#include "base/mem.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/models.h"
#include "cases/squad_hear.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the season ---- */

static Date first_day(void) {
    return date_of((Civil){2001, 1, 1}); /* a Monday */
}

static void add_sessions(Season *s, size_t who, const VirtualWay *way) {
    Athlete *a = &s->athletes[who];
    a->sessions = s->sessions + s->session_count;
    a->session_count = way->log;
    for (size_t i = 0; i < way->log; i++)
        a->sessions[i] = (Session){.date = first_day() + (Date)i,
                                   .minute = -1,
                                   .athlete = (uint32_t)who,
                                   .kind = KIND_OTHER,
                                   .scored = 1 << LOAD_GIVEN,
                                   .load = way->load[i],
                                   .minutes = NAN,
                                   .rpe = NAN};
    s->session_count += way->log;
}

static void add_tests(Season *s, size_t who, const VirtualTests *tests) {
    Athlete *a = &s->athletes[who];
    a->test_count = a->test_room = tests->count;
    a->tests = mem_new(tests->count, sizeof *a->tests);
    for (size_t i = 0; i < tests->count; i++)
        a->tests[i] = (Test){.date = first_day() + (Date)tests->day[i],
                             .value = tests->value[i],
                             .error = NAN};
}

static void add_athlete(Season *s, const VirtualAthlete *athlete) {
    char name[32];
    size_t who = s->athlete_count;
    int length = snprintf(name, sizeof name, "virtual-%04zu", who + 1);
    season_add_athlete(s, name, (size_t)length);
    s->athletes[who].squad = 0;
    if (athlete->way.days == 0)
        return;
    add_sessions(s, who, &athlete->way);
    add_tests(s, who, &athlete->tests);
}

/* The usual week to come, and the event after it. */
static void add_ahead(Season *s, const double day[7], size_t days) {
    s->week = mem_new(7, sizeof *s->week);
    s->week_room = 7;
    for (int i = 0; i < 7; i++)
        if (day[i] > 0)
            s->week[s->week_count++] =
                (WeekRow){.weekday = i,
                          .date = DATE_NONE,
                          .session = mem_copy("training"),
                          .athlete = NAMES_NONE,
                          .kind = KIND_OTHER,
                          .minutes = NAN,
                          .rpe = NAN,
                          .load = day[i],
                          .least_minutes = NAN};
    s->events = mem_new(1, sizeof *s->events);
    s->event_count = s->event_room = 1;
    s->events[0] = (Event){.name = mem_copy("event"),
                           .start = first_day() + (Date)days,
                           .days = 1,
                           .weight = 1,
                           .athlete = NAMES_NONE,
                           .load_per_day = NAN,
                           .minute = -1};
}

Season *virtual_squad_season(const DesignValue *const at[FACTORS],
                             const VirtualAthlete *athlete, size_t count) {
    Season *s = mem_new(1, sizeof *s);
    size_t days = 7 * (size_t)at[FACTOR_WEEKS]->number;
    size_t log = days - VIRTUAL_WINDOW;
    s->path = mem_copy("virtual");
    s->folder = mem_copy("virtual");
    s->log_path = mem_copy("virtual");
    s->method = LOAD_GIVEN;
    s->log_read = true;
    names_add(&s->squad_names, "", 0);
    names_add(&s->session_names, "training", strlen("training"));
    names_add(&s->test_names, "readiness", strlen("readiness"));
    s->test_kinds = mem_new(1, sizeof *s->test_kinds);
    s->test_kind_room = 1;
    s->session_room = count * log;
    s->sessions = mem_new(s->session_room, sizeof *s->sessions);
    for (size_t i = 0; i < count; i++)
        add_athlete(s, &athlete[i]);
    s->first = first_day();
    s->last = s->today = first_day() + (Date)log - 1;
    add_ahead(s, at[FACTOR_LOAD]->day, days);
    return s;
}

/* ---- the advice ---- */

void virtual_squad_open(const Design *design, unsigned long seed, Notes *notes,
                        VirtualAdviser *a) {
    a->question = (Question){.aim = AIM_MEAN,
                             .seed = seed,
                             .threads = 1,
                             .quiet = true,
                             .limits = limits_default()};
    a->context = (Context){.question = &a->question, .notes = notes};
    models_named(&a->context, "literature");
    for (size_t i = 0; i < design->count[FACTOR_ASSUMED]; i++)
        models_named(&a->context, design->value[FACTOR_ASSUMED][i].text);
}

void virtual_squad_close(VirtualAdviser *a) {
    models_free(&a->context);
}

typedef struct {
    const DesignValue *taper;
    size_t tapers;
    const Assigned *assigned[ADVICE_ALONE + 1]; /* NULL: nobody asks */
    VirtualClaim *claim;
} Job;

static void claim_one(const Case *c, const Job *job, const DrawScores *draws,
                      const Score *score, size_t taper) {
    const DesignValue *value = &job->taper[taper];
    const Assigned *all = job->assigned[value->advice];
    VirtualClaim *claim = &job->claim[c->athlete * job->tapers + taper];
    const Option none = {.count = 0};
    double *work = mem_new(2 * draws->count, sizeof *work);
    Spread spread;
    claim->option = value->option;
    claim->there = !all || all[c->athlete].event;
    if (claim->there && all)
        claim->option = all[c->athlete].option;
    spread = draw_scores_option(draws, &claim->option, work);
    claim->gain =
        score_option(score, &claim->option) - score_option(score, &none);
    claim->low = spread.gain_low;
    claim->high = spread.gain_high;
    free(work);
}

static void claim_all(void *with, EachAthlete *one) {
    const Job *job = with;
    const Case *c = &one->c;
    DrawScores draws = {0};
    Score score = {0};
    best_taper_score(c, &c->outlook, &draws, &score);
    for (size_t i = 0; i < job->tapers; i++)
        claim_one(c, job, &draws, &score, i);
    draw_scores_free(&draws);
    score_free(&score);
}

static bool go_on(void *with, EachAthlete *one) {
    (void)with;
    (void)one;
    return true;
}

/* Shares the adviser's models. */
static void open_context(const VirtualAdviser *a, const Question *q,
                         Season *season, Notes *notes, Context *d) {
    size_t bytes = a->context.model_count * sizeof *d->models;
    *d = (Context){.question = q,
                   .notes = notes,
                   .season = season,
                   .chosen_count = season->athlete_count,
                   .model_count = a->context.model_count,
                   .model_room = a->context.model_count,
                   .borrowed = a->context.model_count};
    d->models = mem_new(d->model_count, sizeof *d->models);
    memcpy(d->models, a->context.models, bytes);
    d->chosen = mem_new(d->chosen_count, sizeof *d->chosen);
    for (size_t i = 0; i < d->chosen_count; i++)
        d->chosen[i] = i;
}

/* What is recommended, the one way and the other, to whoever asks for it. */
static void decide(Context *d, Question *q, Job *job) {
    for (int advice = ADVICE_SQUAD; advice <= ADVICE_ALONE; advice++) {
        bool asked = false;
        for (size_t i = 0; i < job->tapers; i++)
            asked = asked || (int)job->taper[i].advice == advice;
        if (!asked)
            continue;
        q->individual = advice == ADVICE_ALONE;
        squad_tapers_decide(d);
        job->assigned[advice] = d->assigned;
        d->assigned = NULL;
    }
}

void virtual_squad_claim(const VirtualAdviser *a,
                         const DesignValue *const at[FACTORS],
                         const DesignValue *taper, size_t tapers,
                         const VirtualAthlete *athlete, size_t count,
                         VirtualClaim *claim) {
    Question q = a->question;
    Notes notes = {0};
    Context d;
    Job job = {.taper = taper, .tapers = tapers, .claim = claim};
    EachJob each = {.doing = "virtual athletes advised",
                    .need_event = true,
                    .slot = sizeof(EachAthlete),
                    .work = claim_all,
                    .take = go_on,
                    .with = &job};
    if (!text_same(at[FACTOR_ASSUMED]->text, "literature"))
        q.model = at[FACTOR_ASSUMED]->text;
    open_context(a, &q, virtual_squad_season(at, athlete, count), &notes, &d);
    for (size_t i = 0; i < count * tapers; i++)
        claim[i] = (VirtualClaim){.gain = NAN, .low = NAN, .high = NAN};
    squad_hear(&d);
    decide(&d, &q, &job);
    each_run(&d, &each);
    context_close(&d);
    for (int advice = ADVICE_NONE; advice <= ADVICE_ALONE; advice++)
        free((Assigned *)job.assigned[advice]);
    notes_free(&notes);
}
