/* step_gains: see step_gains.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/step_gains.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of one draw: what each day more that is cut adds. */
static void add_draw(StepGains *g, size_t i, double *drop, double *bend) {
    const Score *s = &g->scores->score[i];
    size_t n = g->scores->count, w = g->window;
    memset(drop, 0, w * sizeof *drop);
    memset(bend, 0, w * w * sizeof *bend);
    if (s->linear)
        memcpy(drop, s->drop, w * sizeof *drop);
    else
        score_bend(s, drop, bend);
    for (size_t day = 1; day <= w; day++) {
        double b = 0;
        for (size_t u = 0; u < day; u++)
            b += bend[u * w + day - 1];
        g->a[day * n + i] = g->a[(day - 1) * n + i] - drop[day - 1];
        g->b[day * n + i] = g->b[(day - 1) * n + i] - b;
    }
}

void step_gains_start(const DrawScores *scores, StepGains *g) {
    size_t n = scores->count, w = n ? scores->score[0].window : 0;
    double *drop = mem_new(w, sizeof *drop);
    double *bend = mem_new(w * w, sizeof *bend);
    *g = (StepGains){
        .scores = scores, .window = w, .gain = mem_new(n, sizeof *g->gain)};
    if (n > 0 && scores->score[0].days == 1) {
        g->a = mem_new((w + 1) * n, sizeof *g->a);
        g->b = mem_new((w + 1) * n, sizeof *g->b);
        for (size_t i = 0; i < n; i++)
            add_draw(g, i, drop, bend);
    }
    free(drop);
    free(bend);
}

void step_gains_free(StepGains *g) {
    free(g->a);
    free(g->b);
    free(g->gain);
    *g = (StepGains){0};
}

static void set_gains(StepGains *g, size_t days, double cut) {
    Option step = {.count = 1, .part = {{(int)days, cut, cut, 'x'}}};
    size_t n = g->scores->count, at = (days < g->window ? days : g->window) * n;
    double x = cut / 100;
    if (!g->a)
        draw_scores_gains(g->scores, &step, g->gain);
    for (size_t i = 0; i < n && g->a; i++)
        g->gain[i] = g->a[at + i] * x + g->b[at + i] * x * x;
}

double step_gains_helps(StepGains *g, size_t days, double cut) {
    size_t n = g->scores->count, better = 0;
    set_gains(g, days, cut);
    for (size_t i = 0; i < n; i++)
        better += g->gain[i] >
                  1e-12 * fabs(g->scores->score[i].base[0]); /* not rounding */
    return n ? (double)better / (double)n : NAN;
}

Spread step_gains_spread(StepGains *g, size_t days, double cut) {
    Spread spread = {NAN, NAN, NAN, NAN, step_gains_helps(g, days, cut)};
    spread.gain_low = draws_quantile(g->gain, g->scores->count, .05);
    spread.gain_high = draws_quantile(g->gain, g->scores->count, .95);
    return spread;
}
