/* virtual: see virtual.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/virtual.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

enum {
    REST_MOST = 3,
    REDRAWS = 1000, /* before an athlete is given up */
    FIRST_TEST = 7, /* [d] before which nobody is tested */
    SEASON = 182    /* [d] of the drift */
};

static const double apart = 1.3; /* least tau1/tau2 */

/* ---- the way ---- */

static double normal(gsl_rng *rng) {
    return gsl_ran_gaussian_ratio_method(rng, 1);
}

static void vary(VirtualWay *way, gsl_rng *rng) {
    static const double block[] = {.8, 1, 1.2, .6};
    double week = 1;
    size_t ill = gsl_rng_uniform_int(rng, 84), length;
    for (size_t i = 0; i < way->log; i++) {
        if (i % 7 == 0)
            week = block[i / 7 % 4] * exp(.15 * normal(rng));
        way->load[i] *= week * exp(.25 * normal(rng));
    }
    length = 4 + gsl_rng_uniform_int(rng, 4);
    for (ill += 28; ill + 28 < way->log; ill += 182)
        for (size_t i = 0; i < length; i++)
            way->load[ill + i] = 0;
}

static double mean_of(const double *load, size_t days) {
    double sum = 0;
    for (size_t i = 0; i < days; i++)
        sum += load[i];
    return sum / (double)days;
}

void virtual_way(const DesignValue *const at[FACTORS], gsl_rng *rng,
                 VirtualWay *way) {
    const double *day = at[FACTOR_LOAD]->day;
    double more = at[FACTOR_OVERLOAD]->number / 100;
    way->days = 7 * (size_t)at[FACTOR_WEEKS]->number;
    way->log = way->days > VIRTUAL_WINDOW ? way->days - VIRTUAL_WINDOW : 0;
    way->varied = way->log > 0 && (at[FACTOR_LOG]->number > 0 || more > 0);
    for (size_t i = 0; i < way->days; i++)
        way->load[i] = day[i % 7];
    way->load[way->days] = 0;
    if (at[FACTOR_LOG]->number > 0)
        vary(way, rng);
    for (size_t u = 1; u <= 28 && u <= way->log; u++)
        way->load[way->log - u] *= 1 + more;
    way->mean =
        mean_of(way->varied ? way->load : day, way->varied ? way->log : 7);
    way->before = !way->varied    ? way->mean
                  : way->log < 28 ? mean_of(way->load, way->log)
                                  : mean_of(way->load, 28);
}

/* ---- the truth ---- */

/* Share of a spread (SD of the log) that lies between squads: SD .30, .50, .35
 * of .40, .70, .50, as calibrate/pool.c has it; our choice, no source. */
static double between(int i) {
    return i == PARAM_TAU1                     ? .75
           : i == PARAM_TAU2                   ? 5. / 7
           : i == PARAM_RATIO || i == PARAM_K2 ? .7
                                               : 0;
}

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

bool virtual_draw(const Model *m, const double centre[PARAMS], gsl_rng *rng,
                  ResponseParams *truth, unsigned *redrawn) {
    for (*redrawn = 0; *redrawn <= REDRAWS; (*redrawn)++) {
        *truth = m->params;
        for (int i = 0; i < PARAMS; i++)
            truth->value[i] = draw_one(m, i, centre, rng);
        if (stays_apart(truth))
            return true;
    }
    return false;
}

/* ---- readiness ---- */

static Timeline timeline_of(const VirtualWay *way, const double *load) {
    return (Timeline){way->days + 1, NULL, load, way->before, 1};
}

/* Fitness less fatigue at the event, from a state that stands at `from`. */
static double at_event(const ResponseParams *p, const VirtualWay *way,
                       const double *load, size_t from, KernelState state) {
    double fitness[VIRTUAL_DAYS + 1], fatigue[VIRTUAL_DAYS + 1];
    Timeline timeline = timeline_of(way, load);
    size_t last = way->days - from;
    kernel_go(p, &timeline, from, way->days + 1, READ_BEFORE, &state, fitness,
              fatigue);
    return fitness[last] - fatigue[last];
}

void virtual_stand(const ResponseParams *p, const VirtualWay *way,
                   size_t window, VirtualStand *s) {
    double fitness[VIRTUAL_DAYS + 1], fatigue[VIRTUAL_DAYS + 1];
    Timeline timeline = timeline_of(way, way->load);
    *s = (VirtualStand){.params = p, .way = way};
    s->from = way->days > window ? way->days - window : 0;
    kernel_start(p, way->before, 1, &s->state);
    kernel_go(p, &timeline, 0, s->from, READ_BEFORE, &s->state, fitness,
              fatigue);
    s->none = at_event(p, way, way->load, s->from, s->state);
}

double virtual_gain(const VirtualStand *s, const double *cut, size_t days) {
    double load[VIRTUAL_DAYS + 1];
    size_t last = s->way->days;
    memcpy(load, s->way->load, sizeof load);
    for (size_t u = 1; u <= days && u <= last; u++)
        load[last - u] *= 1 - cut[u - 1];
    return at_event(s->params, s->way, load, s->from, s->state) - s->none;
}

double virtual_attainable(const VirtualStand *s) {
    static const double depth[] = {.15, .3, .45, .6, .75, 1};
    double best = 0, step[VIRTUAL_WINDOW], fall[VIRTUAL_WINDOW];
    for (int d = 0; d < 6; d++) {
        size_t longest = depth[d] < 1 ? VIRTUAL_WINDOW : REST_MOST;
        for (size_t u = 0; u < VIRTUAL_WINDOW; u++)
            step[u] = depth[d];
        for (size_t days = 1; days <= longest && days <= s->way->days; days++) {
            best = fmax(best, virtual_gain(s, step, days));
            for (size_t u = 1; u < days; u++)
                fall[u - 1] =
                    depth[d] * (double)(days - u) / (double)(days - 1);
            if (depth[d] < 1) /* no cut on its first day */
                best = fmax(best, virtual_gain(s, fall, days - 1));
        }
    }
    return best;
}

/* Readiness in the mornings of the days before `to`, from the first on; the
 * largest fitness among them. */
static double mornings(const VirtualStand *s, size_t to, double *readiness) {
    double fatigue[VIRTUAL_DAYS + 1], largest = 0;
    Timeline timeline = timeline_of(s->way, s->way->load);
    KernelState state;
    kernel_start(s->params, s->way->before, 1, &state);
    kernel_go(s->params, &timeline, 0, to, READ_BEFORE, &state, readiness,
              fatigue);
    for (size_t i = 0; i < to; i++) {
        largest = fmax(largest, fabs(readiness[i]));
        readiness[i] -= fatigue[i];
    }
    return largest;
}

/* Rounding is no motion. */
double virtual_moved(const VirtualStand *s) {
    double readiness[VIRTUAL_DAYS + 1], sd, largest;
    const VirtualWay *way = s->way;
    size_t to = way->varied ? way->log : way->days + 1;
    size_t skip = way->varied || to <= VIRTUAL_WINDOW ? 0 : to - VIRTUAL_WINDOW;
    largest = mornings(s, to, readiness);
    sd = gsl_stats_sd(readiness + skip, 1, to - skip);
    return sd > 1e-9 * largest ? sd : NAN;
}

/* ---- tests ---- */

static size_t count_tests(const DesignValue *v, gsl_rng *rng) {
    size_t more = (size_t)(v->most - v->number);
    return (size_t)v->number + (more ? gsl_rng_uniform_int(rng, more + 1) : 0);
}

void virtual_tests(const DesignValue *const at[FACTORS], const VirtualStand *s,
                   double moved, gsl_rng *rng, VirtualTests *tests) {
    double readiness[VIRTUAL_DAYS + 1], error = 0;
    double trend = at[FACTOR_DRIFT]->number * normal(rng);
    double time = at[FACTOR_ERROR_TIME]->number;
    size_t log = s->way->log, first = log > 2 * FIRST_TEST ? FIRST_TEST : 0;
    mornings(s, log, readiness);
    tests->count = count_tests(at[FACTOR_TESTS], rng);
    for (size_t i = 0; i < tests->count; i++) {
        double width = (double)(log - first) / (double)tests->count;
        size_t day =
            first + (size_t)(width * ((double)i + gsl_rng_uniform(rng)));
        double gap = i ? (double)(day - tests->day[i - 1]) : 0;
        double kept = i && time > 0 ? exp(-gap / time) : 0;
        double noise = at[FACTOR_NOISE]->number;
        error = kept * error + sqrt(1 - kept * kept) * normal(rng);
        if (gsl_rng_uniform(rng) * 100 < at[FACTOR_OUTLIERS]->number)
            noise *= 3;
        tests->day[i] = day;
        tests->value[i] =
            readiness[day] +
            moved * (noise * error + trend * (double)day / SEASON);
    }
}
