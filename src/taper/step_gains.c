/* step_gains: see step_gains.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/step_gains.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

void step_gains_start(const DrawScores *scores, StepGains *g) {
    *g = (StepGains){.scores = scores,
                     .half = mem_new(scores->count, sizeof *g->half),
                     .all = mem_new(scores->count, sizeof *g->all),
                     .gain = mem_new(scores->count, sizeof *g->gain)};
}

void step_gains_free(StepGains *g) {
    free(g->half);
    free(g->all);
    free(g->gain);
    *g = (StepGains){0};
}

static void gains_of(const StepGains *g, double cut, double *gain) {
    Option step = {.count = 1, .part = {{g->days, cut, cut, 'x'}}};
    draw_scores_gains(g->scores, &step, gain);
}

void step_gains_set(StepGains *g, int days) {
    g->days = days;
    gains_of(g, 50, g->half);
    gains_of(g, 100, g->all);
}

double step_gains_helps(StepGains *g, double cut) {
    size_t n = g->scores->count, better = 0;
    bool lowest = n > 0 && g->scores->score[0].aim == AIM_LOWEST;
    double x = cut / 100;
    if (lowest)
        gains_of(g, cut, g->gain);
    for (size_t i = 0; i < n; i++) {
        double b = 2 * g->all[i] - 4 * g->half[i], a = g->all[i] - b;
        if (!lowest)
            g->gain[i] = a * x + b * x * x;
        better +=
            g->gain[i] > 1e-12 * (fabs(g->half[i]) + fabs(g->all[i]));
    }
    return n ? (double)better / (double)n : NAN;
}

Spread step_gains_spread(StepGains *g, double cut) {
    Spread spread = {NAN, NAN, NAN, NAN, step_gains_helps(g, cut)};
    spread.gain_low = draws_quantile(g->gain, g->scores->count, .05);
    spread.gain_high = draws_quantile(g->gain, g->scores->count, .95);
    return spread;
}
