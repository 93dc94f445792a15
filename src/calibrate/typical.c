/* typical: see typical.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/typical.h"

#include "base/mem.h"
#include "calibrate/draws.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

/* Readings of the athlete whose first one is at `from`. */
static size_t run_at(const SquadReadings *r, size_t from) {
    size_t to = from;
    while (to < r->count && r->athlete[to] == r->athlete[from])
        to++;
    return to - from;
}

/* Median SD of athletes with so many readings; 0: none varies. */
static double within(const SquadReadings *r, size_t least, double *room) {
    size_t found = 0;
    for (size_t i = 0; i < r->count; i += run_at(r, i)) {
        size_t n = run_at(r, i);
        if (n >= least)
            room[found++] = gsl_stats_sd(r->value + i, 1, n);
    }
    return found > 0 ? draws_quantile(room, found, .5) : 0;
}

static double between(const SquadReadings *r, double *room) {
    size_t found = 0;
    for (size_t i = 0; i < r->count; i += run_at(r, i))
        room[found++] = gsl_stats_mean(r->value + i, 1, run_at(r, i));
    return found > 1 ? gsl_stats_sd(room, 1, found) : 0;
}

static double level(const SquadReadings *r) {
    double sum = 0;
    for (size_t i = 0; i < r->count; i++)
        sum += fabs(r->value[i]) / (double)r->count;
    return sum;
}

double typical_spread(const SquadReadings *r) {
    double *room = mem_new(r->count + 1, sizeof *room), all = level(r);
    double least = 1e-9 * all, spread = within(r, 3, room);
    if (!(spread > least))
        spread = within(r, 2, room);
    if (!(spread > least))
        spread = between(r, room);
    free(room);
    if (spread > least)
        return spread;
    return all > 0 ? .02 * all : 1;
}
