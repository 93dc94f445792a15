/* experiment: see experiment.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/experiment.h"

#include "base/crew.h"
#include "base/mem.h"
#include "calibrate/draws.h"
#include "response/kernel.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum {
    DAYS_MOST = 104 * 7,
    WINDOW = 28,
    REST_MOST = 3,
    PIECE = 256,    /* runs worked on together */
    REDRAWS = 1000, /* before an athlete is given up */
    CLAIM_DRAWS = 256
};

static const double apart = 1.3; /* least tau1/tau2 */

/* The way to an event. */
typedef struct {
    size_t days;
    double usual[DAYS_MOST + 1]; /* [load] the event's day has none */
    double mean;                 /* [load/d] */
} Way;

static void way_set(Way *way, const DesignValue *const at[FACTORS]) {
    const double *day = at[FACTOR_LOAD]->day;
    way->days = 7 * (size_t)at[FACTOR_WEEKS]->number;
    way->mean = 0;
    for (size_t i = 0; i < way->days; i++)
        way->usual[i] = day[i % 7];
    for (int i = 0; i < 7; i++)
        way->mean += day[i] / 7;
    way->usual[way->days] = 0;
}

/* Fitness less fatigue at the event, from a state that stands at `from`. */
static double at_event(const ResponseParams *p, const Way *way,
                       const double *load, size_t from, KernelState state) {
    double fitness[DAYS_MOST + 1], fatigue[DAYS_MOST + 1];
    Timeline timeline = {way->days + 1, NULL, load, way->mean, 1};
    size_t last = way->days - from;
    kernel_go(p, &timeline, from, way->days + 1, READ_BEFORE, &state, fitness,
              fatigue);
    return fitness[last] - fatigue[last];
}

/* An athlete's state as a window before the event begins. */
typedef struct {
    const ResponseParams *params;
    const Way *way;
    size_t from;
    KernelState state;
    double none; /* without a taper */
} Stand;

static void stand_set(Stand *s, const ResponseParams *p, const Way *way,
                      size_t window) {
    double fitness[DAYS_MOST + 1], fatigue[DAYS_MOST + 1];
    Timeline timeline = {way->days + 1, NULL, way->usual, way->mean, 1};
    *s = (Stand){.params = p, .way = way};
    s->from = way->days > window ? way->days - window : 0;
    kernel_start(p, way->mean, 1, &s->state);
    kernel_go(p, &timeline, 0, s->from, READ_BEFORE, &s->state, fitness,
              fatigue);
    s->none = at_event(p, way, way->usual, s->from, s->state);
}

/* Gain over no taper; cut[u - 1] for the day u before, `days` of them. */
static double gain_of(const Stand *s, const double *cut, size_t days) {
    double load[DAYS_MOST + 1];
    size_t last = s->way->days;
    memcpy(load, s->way->usual, sizeof load);
    for (size_t u = 1; u <= days && u <= last; u++)
        load[last - u] *= 1 - cut[u - 1];
    return at_event(s->params, s->way, load, s->from, s->state) - s->none;
}

/* SD of readiness in a window's mornings; rounding is no motion. */
static double moved_by_training(const Stand *s) {
    double fitness[DAYS_MOST + 1], fatigue[DAYS_MOST + 1];
    const Way *way = s->way;
    Timeline timeline = {way->days + 1, NULL, way->usual, way->mean, 1};
    KernelState state = s->state;
    size_t count = way->days + 1 - s->from;
    size_t skip = count > WINDOW ? count - WINDOW : 0;
    double largest = 0, sd;
    kernel_go(s->params, &timeline, s->from, way->days + 1, READ_BEFORE, &state,
              fitness, fatigue);
    for (size_t i = skip; i < count; i++) {
        largest = fmax(largest, fabs(fitness[i]));
        fitness[i] -= fatigue[i];
    }
    sd = gsl_stats_sd(fitness + skip, 1, count - skip);
    return sd > 1e-9 * largest ? sd : NAN;
}

static double best_of_grid(const Stand *s) {
    static const double depth[] = {.25, .5, .75, 1};
    double best = 0, cut[WINDOW];
    for (int d = 0; d < 4; d++) {
        size_t longest = depth[d] < 1 ? WINDOW : REST_MOST;
        for (size_t u = 0; u < WINDOW; u++)
            cut[u] = depth[d];
        for (size_t days = 1; days <= longest && days <= s->way->days; days++)
            best = fmax(best, gain_of(s, cut, days));
    }
    return best;
}

/* ---- athletes ---- */

/* Share of a spread (SD of the log) that lies between squads: SD .30, .50, .35
 * of .40, .70, .50, as calibrate/pool.c has it; our choice, no source. */
static double between(int i) {
    return i == PARAM_TAU1                     ? .75
           : i == PARAM_TAU2                   ? 5. / 7
           : i == PARAM_RATIO || i == PARAM_K2 ? .7
                                               : 0;
}

/* `centre` standard normals of the athlete's squad; NULL: squads of one. */
static double draw_one(const Model *m, int i, const double *centre,
                       gsl_rng *rng) {
    double value = m->params.value[i], spread = m->spread[i];
    double share = centre ? between(i) : 0;
    if (!(spread > 0))
        return value;
    if (i == PARAM_GROWTH) {
        double low = fmax(0, value - spread), high = fmin(1, value + spread);
        return low + (high - low) * gsl_rng_uniform(rng);
    }
    if (centre)
        value *= exp(share * spread * centre[i]);
    return value * exp(gsl_ran_gaussian_ratio_method(
                       rng, spread * sqrt(1 - share * share)));
}

static bool stays_apart(const ResponseParams *p) {
    return !response_has(p->kind, PARAM_TAU2) ||
           p->value[PARAM_TAU1] > apart * p->value[PARAM_TAU2];
}

static bool draw_truth(const Model *m, const double *centre, gsl_rng *rng,
                       ExperimentRun *run) {
    for (run->redrawn = 0; run->redrawn <= REDRAWS; run->redrawn++) {
        run->truth = m->params;
        for (int i = 0; i < PARAMS; i++)
            run->truth.value[i] = draw_one(m, i, centre, rng);
        if (stays_apart(&run->truth))
            return true;
    }
    return false;
}

/* A seed of an athlete's own: the same whatever the part and the thread
 * (splitmix64; Steele, Lea, Flood 2014, OOPSLA; from memory). */
static unsigned long seed_of(unsigned long seed, size_t athlete) {
    uint64_t x = seed * UINT64_C(0x9E3779B97F4A7C15) + athlete;
    x = (x ^ (x >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    x = (x ^ (x >> 27)) * UINT64_C(0x94D049BB133111EB);
    return (unsigned long)((x ^ (x >> 31)) & 0xFFFFFFFF);
}

/* ---- runs ---- */

typedef struct {
    const ExperimentTask *task;
    size_t first, count; /* runs of this part */
    ExperimentTake take;
    void *with;
    ExperimentSum *sums;
} Work;

typedef struct {
    ExperimentRun *runs;
    size_t count;
} Slot;

static void run_truth(const DesignValue *const at[FACTORS], const Way *way,
                      gsl_rng *rng, ExperimentRun *run) {
    const Option *option = &at[FACTOR_TAPER]->option;
    size_t days = (size_t)option_days(option);
    double cut[OPTION_LONGEST] = {0};
    Stand s;
    option_cuts(option, days, cut);
    response_settle(&run->truth, way->mean);
    stand_set(&s, &run->truth, way, days > WINDOW ? days : WINDOW);
    run->moved = moved_by_training(&s);
    run->attainable = fmax(best_of_grid(&s), gain_of(&s, cut, days));
    for (size_t u = 0; u < days; u++)
        if (gsl_rng_uniform(rng) * 100 >= at[FACTOR_ADHERENCE]->number)
            cut[u] = 0;
    run->gain = gain_of(&s, cut, days);
    if (!isfinite(run->gain)) {
        run->gain = run->attainable = run->moved = NAN;
        run->status = "readiness is not finite";
    }
}

static void run_one(const Work *w, size_t index, gsl_rng *rng,
                    ExperimentRun *run) {
    const DesignValue *at[FACTORS];
    Way way;
    size_t athlete = index % w->task->athletes, size;
    double centre[PARAMS];
    *run = (ExperimentRun){.run = index + 1,
                           .athlete = athlete + 1,
                           .combination = index / w->task->athletes,
                           .gain = NAN,
                           .attainable = NAN,
                           .moved = NAN,
                           .status = "ok"};
    design_at(w->task->design, run->combination, at);
    way_set(&way, at);
    size = (size_t)at[FACTOR_SQUAD]->number;
    run->squad = athlete / size + 1;
    gsl_rng_set(rng, seed_of(~w->task->seed, run->squad));
    for (int i = 0; i < PARAMS; i++)
        centre[i] = gsl_ran_gaussian_ratio_method(rng, 1);
    gsl_rng_set(rng, seed_of(w->task->seed, athlete));
    if (!draw_truth(&at[FACTOR_MODEL]->model, size > 1 ? centre : NULL, rng,
                    run))
        run->status = "no draw with tau1 above 1.3 tau2";
    else if ((size_t)option_days(&at[FACTOR_TAPER]->option) > way.days)
        run->status = "the taper is longer than the weeks";
    else
        run_truth(at, &way, rng, run);
}

static void work(void *with, size_t piece, void *into) {
    const Work *w = with;
    Slot *slot = into;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    size_t begin = piece * PIECE;
    if (!rng)
        mem_out();
    slot->count = w->count - begin < PIECE ? w->count - begin : PIECE;
    slot->runs = mem_new(slot->count, sizeof *slot->runs);
    for (size_t i = 0; i < slot->count; i++)
        run_one(w, w->first + begin + i, rng, &slot->runs[i]);
    gsl_rng_free(rng);
}

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
    sum->attainable += (run->attainable - sum->attainable) / (double)sum->runs;
    sum->moved += (run->moved - sum->moved) / (double)sum->runs;
}

static bool take_piece(void *with, size_t piece, void *from) {
    const Work *w = with;
    Slot *slot = from;
    (void)piece;
    for (size_t i = 0; i < slot->count; i++) {
        ExperimentSum *sum = &w->sums[slot->runs[i].combination];
        add(sum, &slot->runs[i]);
        w->take(w->with, &slot->runs[i], sum);
    }
    free(slot->runs);
    return true;
}

/* ---- what the assumed model claims ---- */

static void claim_range(const Draws *draws, const Way *way, const double *cut,
                        size_t days, ExperimentSum *sum) {
    double gain[CLAIM_DRAWS];
    sum->claimed = 0;
    for (size_t i = 0; i < draws->count; i++) {
        Stand s;
        stand_set(&s, &draws->set[i], way, days);
        gain[i] = gain_of(&s, cut, days);
        sum->claimed += gain[i] / (double)draws->count;
    }
    sum->low = draws_quantile(gain, draws->count, .05);
    sum->high = draws_quantile(gain, draws->count, .95);
}

static StatusCode claim(const ExperimentTask *task, size_t combination,
                        ExperimentSum *sum, Status *status) {
    const DesignValue *at[FACTORS];
    double cut[OPTION_LONGEST] = {0};
    ResponseParams only;
    Draws draws;
    Way way;
    size_t days;
    *sum = (ExperimentSum){.claimed = NAN, .low = NAN, .high = NAN};
    design_at(task->design, combination, at);
    way_set(&way, at);
    days = (size_t)option_days(&at[FACTOR_TAPER]->option);
    if (days > way.days)
        return STATUS_OK;
    option_cuts(&at[FACTOR_TAPER]->option, days, cut);
    if (draws_from_spreads(&at[FACTOR_ASSUMED]->model, CLAIM_DRAWS, task->seed,
                           &draws, status) != STATUS_OK)
        return status->code;
    only = at[FACTOR_ASSUMED]->model.params;
    if (draws.count) {
        draws_settle(&draws, way.mean);
        claim_range(&draws, &way, cut, days, sum);
    } else {
        Stand s;
        response_settle(&only, way.mean);
        stand_set(&s, &only, &way, days);
        sum->claimed = gain_of(&s, cut, days);
    }
    draws_free(&draws);
    return STATUS_OK;
}

StatusCode experiment_run(const ExperimentTask *task, ExperimentTake take,
                          void *with, ExperimentSum *sums, Status *status) {
    size_t combinations = design_combinations(task->design);
    size_t total = combinations * task->athletes, last = total;
    Work w = {.task = task, .take = take, .with = with, .sums = sums};
    for (size_t i = 0; i < combinations; i++)
        if (claim(task, i, &sums[i], status) != STATUS_OK)
            return status->code;
    if (task->parts) {
        w.first = total * (task->part - 1) / task->parts;
        last = total * task->part / task->parts;
    }
    w.count = last - w.first;
    crew_run(&(Crew){.pieces = (w.count + PIECE - 1) / PIECE,
                     .threads = task->threads,
                     .slot = sizeof(Slot),
                     .work = work,
                     .take = take_piece,
                     .with = &w});
    for (size_t i = 0; i < combinations; i++)
        end_squad(&sums[i]);
    return STATUS_OK;
}

bool experiment_too_many(const ExperimentTask *task, Text *why) {
    size_t combinations = design_combinations(task->design);
    if (combinations <= RUNS_MOST / task->athletes)
        return false;
    text_add(why,
             "%zu combinations for %zu athletes each, expected at most %d runs "
             "together: ask for fewer --athletes (%zu or less), or for fewer "
             "values in the design",
             combinations, task->athletes, RUNS_MOST,
             combinations > RUNS_MOST ? (size_t)0 : RUNS_MOST / combinations);
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

double experiment_regret(const ExperimentSum *sum) {
    return sum->attainable > 0 ? 1 - sum->mean / sum->attainable : NAN;
}

double experiment_in_sds(const ExperimentSum *sum, double gain) {
    return sum->moved > 0 ? gain / sum->moved : NAN;
}
