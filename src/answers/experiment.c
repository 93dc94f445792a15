/* experiment: see experiment.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/experiment.h"

#include "answers/trial.h"
#include "answers/virtual_squad.h"
#include "base/crew.h"
#include "base/mem.h"
#include "base/progress.h"
#include "calibrate/draws.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum {
    PIECE = 256, /* runs worked on together where nobody is advised */
    CLAIM_DRAWS = 256
};

/* What an athlete's random numbers are for: each has a sequence of its own, so
 * that changing one factor changes nothing else. */
enum { FOR_TRUTH, FOR_LOG, FOR_TESTS, FOR_DAYS };

typedef struct {
    const ExperimentTask *task;
    size_t first, last; /* runs of this part */
    size_t piece;       /* runs worked on together */
    size_t beside;      /* combinations that differ in nothing but taper and
                           adherence: an athlete's runs in a row */
    const VirtualAdviser *adviser;
    const VirtualClaim *claims; /* [combinations] of the models alone */
    ExperimentTake take;
    void *with;
    ExperimentSum *sums;
    Progress progress;
} Work;

typedef struct {
    ExperimentRun *runs;
    size_t count;
} Slot;

/* ---- athletes ---- */

/* A seed of an athlete's own: the same whatever the part and the thread
 * (splitmix64; Steele, Lea, Flood 2014, OOPSLA; from memory). */
static unsigned long seed_of(unsigned long seed, size_t athlete) {
    uint64_t x = seed * UINT64_C(0x9E3779B97F4A7C15) + athlete;
    x = (x ^ (x >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    x = (x ^ (x >> 27)) * UINT64_C(0x94D049BB133111EB);
    return (unsigned long)((x ^ (x >> 31)) & 0xFFFFFFFF);
}

static void set_seed(gsl_rng *rng, const Work *w, size_t athlete, int purpose) {
    unsigned long seed = w->task->seed;
    for (int i = 0; i < purpose; i++)
        seed = seed_of(seed, (size_t)purpose) ^ 0xADu;
    gsl_rng_set(rng, seed_of(seed, athlete));
}

/* Somebody with their truth known. */
typedef struct {
    ResponseParams truth;
    unsigned redrawn;
    const char *status; /* "ok", or what failed */
    VirtualWay way;
    VirtualStand stand;
    double moved, attainable;
} Person;

static void make_person(const Work *w, const DesignValue *const at[FACTORS],
                        size_t athlete, gsl_rng *rng, Person *p) {
    size_t size = (size_t)at[FACTOR_SQUAD]->number;
    double centre[PARAMS];
    p->status = "ok";
    p->moved = p->attainable = NAN;
    set_seed(rng, w, athlete, FOR_LOG);
    virtual_way(at, rng, &p->way);
    gsl_rng_set(rng, seed_of(~w->task->seed, athlete / size + 1));
    for (int i = 0; i < PARAMS; i++)
        centre[i] = gsl_ran_gaussian_ratio_method(rng, 1);
    set_seed(rng, w, athlete, FOR_TRUTH);
    if (!virtual_draw(&at[FACTOR_MODEL]->model, size > 1 ? centre : NULL, rng,
                      &p->truth, &p->redrawn)) {
        p->status = "no draw with tau1 above 1.3 tau2";
        return;
    }
    response_settle(&p->truth, p->way.mean);
    virtual_stand(&p->truth, &p->way, VIRTUAL_WINDOW, &p->stand);
    p->moved = virtual_moved(&p->stand);
    if (at[FACTOR_TESTS]->most > 0 && isnan(p->moved))
        p->status = "every day has the same load, so that nothing moves a test";
    else if (at[FACTOR_TESTS]->most > 0 && p->way.log == 0)
        p->status = "tests need more than the four weeks that are planned";
}

/* ---- squads ---- */

/* Those whom the adviser hears together. */
typedef struct {
    size_t group, number; /* of the combinations, of the squad from 1; 0: none
                             yet */
    size_t first;         /* athlete */
    VirtualClaim *claim;
} Squad;

static void make_athlete(const Work *w, const DesignValue *const at[FACTORS],
                         size_t athlete, gsl_rng *rng, VirtualAthlete *into) {
    Person *p = mem_new(1, sizeof *p);
    make_person(w, at, athlete, rng, p);
    if (strcmp(p->status, "ok") == 0) {
        into->way = p->way;
        set_seed(rng, w, athlete, FOR_TESTS);
        if (at[FACTOR_TESTS]->most > 0)
            virtual_tests(at, &p->stand, p->moved, rng, &into->tests);
    }
    free(p);
}

/* From the athlete `first` on; their number into `count`; to be freed. */
static VirtualAthlete *gather(const Work *w,
                              const DesignValue *const at[FACTORS],
                              size_t first, gsl_rng *rng, size_t *count) {
    size_t size = (size_t)at[FACTOR_SQUAD]->number;
    size_t left = w->task->athletes - first;
    VirtualAthlete *athlete;
    *count = left < size ? left : size;
    athlete = mem_new(*count, sizeof *athlete);
    for (size_t i = 0; i < *count; i++)
        make_athlete(w, at, first + i, rng, &athlete[i]);
    return athlete;
}

static void hear_squad(const Work *w, const DesignValue *const at[FACTORS],
                       gsl_rng *rng, Squad *squad) {
    const Design *design = w->task->design;
    size_t tapers = design->count[FACTOR_TAPER], count;
    VirtualAthlete *athlete;
    squad->first = (squad->number - 1) * (size_t)at[FACTOR_SQUAD]->number;
    athlete = gather(w, at, squad->first, rng, &count);
    free(squad->claim);
    squad->claim = mem_new(count * tapers, sizeof *squad->claim);
    virtual_squad_claim(w->adviser, at, design->value[FACTOR_TAPER], tapers,
                        athlete, count, squad->claim);
    free(athlete);
}

static bool is_advised(const DesignValue *const at[FACTORS]) {
    return design_advised(at) && 7 * at[FACTOR_WEEKS]->number > VIRTUAL_WINDOW;
}

Season *experiment_first_squad(const ExperimentTask *task) {
    const DesignValue *at[FACTORS];
    Work w = {.task = task};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    Season *season = NULL;
    if (!rng)
        mem_out();
    for (size_t i = 0; i < design_combinations(task->design) && !season; i++) {
        VirtualAthlete *athlete;
        size_t count;
        design_at(task->design, i, at);
        if (!is_advised(at))
            continue;
        athlete = gather(&w, at, 0, rng, &count);
        season = virtual_squad_season(at, athlete, count);
        free(athlete);
    }
    gsl_rng_free(rng);
    return season;
}

/* The claim of a run; `squad` is heard if it is another one than before. */
static const VirtualClaim *find_claim(const Work *w,
                                      const DesignValue *const at[FACTORS],
                                      const ExperimentRun *run, gsl_rng *rng,
                                      Squad *squad) {
    const Design *design = w->task->design;
    size_t tapers = design->count[FACTOR_TAPER];
    size_t group = run->combination / w->beside;
    if (!is_advised(at))
        return &w->claims[run->combination];
    if (squad->number != run->squad || squad->group != group) {
        squad->number = run->squad;
        squad->group = group;
        hear_squad(w, at, rng, squad);
    }
    return &squad->claim[(run->athlete - 1 - squad->first) * tapers +
                         run->combination % tapers];
}

/* ---- runs ---- */

/* Why no taper can be tried; NULL: it can. */
static const char *obstacle(const DesignValue *const at[FACTORS],
                            const Person *p, const VirtualClaim *claim) {
    size_t days = (size_t)option_days(&claim->option);
    bool advised = design_advised(at);
    if (strcmp(p->status, "ok") != 0)
        return p->status;
    if (advised && p->way.log == 0)
        return "advice needs more than the four weeks that are planned";
    if (advised && !claim->there)
        return "no advice could be computed";
    if (days > p->way.days)
        return "the taper is longer than the weeks";
    if (advised && days > VIRTUAL_WINDOW)
        return "the taper is longer than the four weeks that are planned";
    return NULL;
}

static void run_truth(const Work *w, const DesignValue *const at[FACTORS],
                      const Person *p, gsl_rng *rng, ExperimentRun *run) {
    size_t days = (size_t)option_days(&run->option);
    double cut[OPTION_LONGEST] = {0};
    VirtualStand longer;
    const VirtualStand *s = &p->stand;
    if (days > VIRTUAL_WINDOW) {
        virtual_stand(&p->truth, &p->way, days, &longer);
        s = &longer;
    }
    option_cuts(&run->option, days, cut);
    run->moved = p->moved;
    run->attainable = fmax(p->attainable, virtual_gain(s, cut, days));
    set_seed(rng, w, run->athlete - 1, FOR_DAYS);
    for (size_t u = 0; u < days; u++)
        if (gsl_rng_uniform(rng) * 100 >= at[FACTOR_ADHERENCE]->number)
            cut[u] = 0;
    run->gain = virtual_gain(s, cut, days);
    if (!isfinite(run->gain)) {
        run->gain = run->attainable = run->moved = NAN;
        run->status = "readiness is not finite";
    }
}

/* Where a run stands. */
static ExperimentRun blank(const Work *w, size_t index) {
    size_t group = index / (w->task->athletes * w->beside);
    size_t rest = index % (w->task->athletes * w->beside);
    return (ExperimentRun){.run = index + 1,
                           .athlete = rest / w->beside + 1,
                           .combination = group * w->beside + rest % w->beside,
                           .gain = NAN,
                           .attainable = NAN,
                           .moved = NAN,
                           .status = "ok"};
}

/* `person` is kept from run to run of the same athlete. */
static void run_one(const Work *w, size_t index, gsl_rng *rng, Squad *squad,
                    Person *person, ExperimentRun *run) {
    const DesignValue *at[FACTORS];
    const VirtualClaim *claim;
    const char *why;
    *run = blank(w, index);
    design_at(w->task->design, run->combination, at);
    run->squad = (run->athlete - 1) / (size_t)at[FACTOR_SQUAD]->number + 1;
    claim = find_claim(w, at, run, rng, squad);
    if (!person->status || index % w->beside == 0) {
        make_person(w, at, run->athlete - 1, rng, person);
        if (strcmp(person->status, "ok") == 0)
            person->attainable = virtual_attainable(&person->stand);
    }
    run->truth = person->truth;
    run->redrawn = index % w->beside == 0 ? person->redrawn : 0;
    run->option = claim->option;
    run->claimed = claim->gain;
    run->low = claim->low;
    run->high = claim->high;
    why = obstacle(at, person, claim);
    if (why)
        run->status = why;
    else
        run_truth(w, at, person, rng, run);
}

static void work(void *with, size_t piece, void *into) {
    const Work *w = with;
    Slot *slot = into;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    size_t begin = (w->first / w->piece + piece) * w->piece;
    size_t end = begin + w->piece < w->last ? begin + w->piece : w->last;
    Person *person = mem_new(1, sizeof *person);
    Squad squad = {0};
    if (!rng)
        mem_out();
    begin = begin > w->first ? begin : w->first;
    slot->count = end - begin;
    slot->runs = mem_new(slot->count, sizeof *slot->runs);
    for (size_t i = 0; i < slot->count; i++)
        run_one(w, begin + i, rng, &squad, person, &slot->runs[i]);
    free(squad.claim);
    free(person);
    gsl_rng_free(rng);
}

/* ---- sums ---- */

static void end_squad(ExperimentSum *sum) {
    sum->squads += sum->size > 0;
    sum->sizes += sum->size * sum->size;
    sum->cross += sum->size * sum->total;
    sum->totals += sum->total * sum->total;
    sum->size = sum->total = 0;
}

static void add_to_squad(ExperimentSum *sum, const ExperimentRun *run) {
    if (sum->runs == 0)
        sum->origin = run->gain;
    if (run->squad != sum->squad)
        end_squad(sum);
    sum->squad = run->squad;
    sum->size++;
    sum->total += run->gain - sum->origin;
}

static void add_to_mean(double *mean, double value, size_t count) {
    *mean += (value - *mean) / (double)count;
}

static void add(ExperimentSum *sum, const ExperimentRun *run) {
    double off = run->gain - sum->mean;
    sum->redrawn += run->redrawn;
    if (!isfinite(run->gain)) {
        sum->failed++;
        return;
    }
    add_to_squad(sum, run);
    sum->runs++;
    sum->harmed += run->gain < 0;
    sum->mean += off / (double)sum->runs;
    sum->squares += off * (run->gain - sum->mean);
    add_to_mean(&sum->attainable, run->attainable, sum->runs);
    add_to_mean(&sum->moved, run->moved, sum->runs);
    add_to_mean(&sum->claimed, run->claimed, sum->runs);
    add_to_mean(&sum->low, run->low, sum->runs);
    add_to_mean(&sum->high, run->high, sum->runs);
    if (isfinite(run->low) && run->option.count > 0) {
        sum->ranged++;
        sum->covered += run->low <= run->gain && run->gain <= run->high;
    }
}

static bool take_piece(void *with, size_t piece, void *from) {
    Work *w = with;
    Slot *slot = from;
    progress_step(&w->progress, piece);
    for (size_t i = 0; i < slot->count; i++) {
        ExperimentSum *sum = &w->sums[slot->runs[i].combination];
        add(sum, &slot->runs[i]);
        w->take(w->with, &slot->runs[i], sum);
    }
    free(slot->runs);
    return true;
}

/* ---- what the assumed model claims by itself ---- */

static void claim_range(const Draws *draws, const VirtualWay *way,
                        const double *cut, size_t days, VirtualClaim *claim) {
    double gain[CLAIM_DRAWS];
    claim->gain = 0;
    for (size_t i = 0; i < draws->count; i++) {
        VirtualStand s;
        virtual_stand(&draws->set[i], way, days, &s);
        gain[i] = virtual_gain(&s, cut, days);
        claim->gain += gain[i] / (double)draws->count;
    }
    claim->low = draws_quantile(gain, draws->count, .05);
    claim->high = draws_quantile(gain, draws->count, .95);
}

/* On training as the load says, each week the same. */
static StatusCode claim_alone(const ExperimentTask *task, size_t combination,
                              VirtualClaim *claim, Status *status) {
    const DesignValue *at[FACTORS], steady = {.number = 0};
    double cut[OPTION_LONGEST] = {0};
    ResponseParams only;
    Draws draws;
    VirtualWay way;
    size_t days;
    design_at(task->design, combination, at);
    at[FACTOR_LOG] = &steady;
    *claim = (VirtualClaim){at[FACTOR_TAPER]->option, NAN, NAN, NAN, true};
    virtual_way(at, NULL, &way);
    days = (size_t)option_days(&claim->option);
    if (days > way.days)
        return STATUS_OK;
    option_cuts(&claim->option, days, cut);
    if (draws_from_spreads(&at[FACTOR_ASSUMED]->model, CLAIM_DRAWS, task->seed,
                           &draws, status) != STATUS_OK)
        return status->code;
    only = at[FACTOR_ASSUMED]->model.params;
    if (draws.count) {
        draws_settle(&draws, way.mean);
        claim_range(&draws, &way, cut, days, claim);
    } else {
        VirtualStand s;
        response_settle(&only, way.mean);
        virtual_stand(&only, &way, days, &s);
        claim->gain = virtual_gain(&s, cut, days);
    }
    draws_free(&draws);
    return STATUS_OK;
}

/* ---- all runs ---- */

/* Runs worked on together: of a squad all, where it is advised. */
static size_t piece_of(const Design *design, size_t beside) {
    size_t combinations = design_combinations(design), largest = 0;
    const DesignValue *at[FACTORS];
    for (size_t i = 0; i < combinations; i++) {
        size_t size;
        design_at(design, i, at);
        size = design_advised(at) ? (size_t)at[FACTOR_SQUAD]->number : 0;
        largest = size > largest ? size : largest;
    }
    return largest ? largest * beside : PIECE;
}

static void run_all(Work *w) {
    const ExperimentTask *task = w->task;
    size_t combinations = design_combinations(task->design);
    size_t total = combinations * task->athletes, pieces;
    w->last = total;
    if (task->parts) {
        w->first = total * (task->part - 1) / task->parts;
        w->last = total * task->part / task->parts;
    }
    if (w->first == w->last)
        return;
    pieces = (w->last - 1) / w->piece - w->first / w->piece + 1;
    w->progress = progress_begin("virtual squads", pieces, task->quiet);
    crew_run(&(Crew){.pieces = pieces,
                     .threads = task->threads,
                     .slot = sizeof(Slot),
                     .work = work,
                     .take = take_piece,
                     .with = w});
    progress_end(&w->progress);
    for (size_t i = 0; i < combinations; i++) {
        end_squad(&w->sums[i]);
        if (w->sums[i].runs == 0)
            w->sums[i].claimed = w->sums[i].low = w->sums[i].high = NAN;
    }
}

StatusCode experiment_run(const ExperimentTask *task, ExperimentTake take,
                          void *with, ExperimentSum *sums, Status *status) {
    const Design *design = task->design;
    size_t combinations = design_combinations(design);
    size_t beside =
        design->count[FACTOR_TAPER] * design->count[FACTOR_ADHERENCE];
    VirtualClaim *claims = mem_new(combinations, sizeof *claims);
    VirtualAdviser adviser;
    Notes notes = {0};
    StatusCode code = STATUS_OK;
    Work w = {.task = task,
              .piece = piece_of(design, beside),
              .beside = beside,
              .adviser = &adviser,
              .claims = claims,
              .take = take,
              .with = with,
              .sums = sums};
    memset(sums, 0, combinations * sizeof *sums);
    virtual_squad_open(design, task->seed, &notes, &adviser);
    for (size_t i = 0; i < combinations && code == STATUS_OK; i++)
        code = claim_alone(task, i, &claims[i], status);
    if (code == STATUS_OK)
        run_all(&w);
    virtual_squad_close(&adviser);
    notes_free(&notes);
    free(claims);
    return code;
}

bool experiment_too_many(const ExperimentTask *task, Text *why) {
    size_t combinations = design_combinations(task->design);
    if (combinations <= RUNS_MOST / task->athletes)
        return false;
    text_add(why,
             "%s%zu combinations for %zu athlete%s each, expected at most %d "
             "runs together: ask for ",
             combinations == SIZE_MAX ? "more than " : "", combinations,
             task->athletes, task->athletes == 1 ? "" : "s", RUNS_MOST);
    if (combinations <= RUNS_MOST)
        text_add(why, "fewer --athletes (%zu or less), or for ",
                 RUNS_MOST / combinations);
    text_add(why, "fewer values in the design");
    return true;
}

double experiment_sd(const ExperimentSum *sum) {
    return sum->runs > 1 ? sqrt(sum->squares / (double)(sum->runs - 1)) : NAN;
}

double experiment_half_width(const ExperimentSum *sum) {
    double off = sum->mean - sum->origin;
    double squares =
        sum->totals - 2 * off * sum->cross + off * off * sum->sizes;
    return sum->squads > 1
               ? 1.96 *
                     sqrt(fmax(0, squares) * sum->squads / (sum->squads - 1)) /
                     (double)sum->runs
               : NAN;
}

double experiment_group(const ExperimentSum *a, const ExperimentSum *b) {
    double sd = sqrt((pow(experiment_sd(a), 2) + pow(experiment_sd(b), 2)) / 2);
    double effect = (a->mean - b->mean) / sd;
    return isfinite(effect) && effect != 0 ? trial_size(effect, .8) : NAN;
}

double experiment_regret(const ExperimentSum *sum) {
    return sum->attainable > 0 ? 1 - sum->mean / sum->attainable : NAN;
}

double experiment_coverage(const ExperimentSum *sum) {
    return sum->ranged ? (double)sum->covered / (double)sum->ranged : NAN;
}

double experiment_in_sds(const ExperimentSum *sum, double gain) {
    return sum->moved > 0 ? gain / sum->moved : NAN;
}
