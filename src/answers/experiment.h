/* experiment: virtual athletes, drawn from a model's spreads, under tapers,
 * with their truth known (virtual.h). Without tests the claimed gain is what
 * the assumed model alone says, of training as the load says; with tests it is
 * what the program says to the squad from its logs and tests
 * (virtual_squad.h).
 *
 * An athlete of one model is the same in every combination that has it, so that
 * tapers are compared on the same people; so are logs, and the noise of as many
 * tests. With squads above one, part of the spread of tau1, tau2 and the ratio
 * lies between squads, the rest within; the interval of a mean then counts
 * squads. An athlete is drawn again about the same centre, so that athletes
 * with tau1 near tau2 are somewhat more frequent than without squads.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_EXPERIMENT_H
#define ANSWERS_EXPERIMENT_H

#include "answers/design.h"
#include "season/season.h"

#include <stddef.h>

enum { RUNS_MOST = 10000000 };

typedef struct {
    const Design *design;
    size_t athletes;    /* of each combination, 1 or more */
    size_t part, parts; /* of the runs; 0 of 0: all */
    unsigned long seed;
    int threads;
    bool quiet; /* no progress line */
} ExperimentTask;

/* One run. */
typedef struct {
    size_t run, athlete, squad; /* from 1 */
    size_t combination;         /* from 0 */
    ResponseParams truth;
    unsigned redrawn; /* draws thrown away before the athlete; told once of
                         combinations that differ in nothing but the taper and
                         adherence */
    Option option;    /* the taper tried */
    double claimed, low, high; /* [readiness] the gain that was claimed for
                                  this athlete, 90 % range; NAN: none */
    double gain;        /* [readiness] over no taper, true; NAN: failed */
    double attainable;  /* [readiness] the most of virtual_attainable() and of
                           the taper itself, done as told */
    double moved;       /* [readiness] what training moves: virtual_moved() */
    const char *status; /* "ok", or what failed */
} ExperimentRun;

/* All runs of a combination. */
typedef struct {
    double claimed, low, high; /* [readiness] means of what was claimed; NAN:
                                  no run, or no range */
    size_t runs, failed, harmed, redrawn;
    size_t ranged, covered; /* runs with a taper and a range, of them those
                               whose true gain lies in it */
    double mean, squares;   /* of the true gain, sum of squares about it */
    double attainable;      /* mean */
    double moved;           /* mean */
    /* For the interval: the squad at hand, its sum and size, and over those
       before it their number, sum of sizes squared, of size x sum, of sums
       squared; sums are of the gain less `origin`. */
    size_t squad;
    double origin, total, size, squads, sizes, cross, totals;
} ExperimentSum;

/* One call a run, in their order. */
typedef void (*ExperimentTake)(void *with, const ExperimentRun *run,
                               const ExperimentSum *sum);

/* `sums` holds design_combinations() of them. Fails with STATUS_DATA when the
 * spreads of an assumed model cannot be drawn. */
StatusCode experiment_run(const ExperimentTask *task, ExperimentTake take,
                          void *with, ExperimentSum *sums, Status *status);

/* The first squad that the program advises from tests or by a model asked for,
 * as a season with its event; NULL: none is. To be freed. */
Season *experiment_first_squad(const ExperimentTask *task);

/* Fills `why` when there are too many runs. */
bool experiment_too_many(const ExperimentTask *task, Text *why);

/* SD of the true gain between athletes; half width of its mean's 95 %
 * interval. */
double experiment_sd(const ExperimentSum *sum);
double experiment_half_width(const ExperimentSum *sum);
/* Athletes a group to tell the mean true gains of two combinations apart with a
 * power of .8 (trial_size(), SD pooled); NAN: no number can. */
double experiment_group(const ExperimentSum *a, const ExperimentSum *b);
/* 1 - gain reached/attainable, of the means; NAN: nothing to gain. */
double experiment_regret(const ExperimentSum *sum);
/* Share of the ranges claimed that hold the true gain; NAN: there is none. */
double experiment_coverage(const ExperimentSum *sum);
/* A gain in SDs of what training moves, of the means: the unit of load does not
 * matter; NAN: training moves nothing. */
double experiment_in_sds(const ExperimentSum *sum, double gain);

#endif
