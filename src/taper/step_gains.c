/* step_gains: see step_gains.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/step_gains.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Load that day u before the event may lose. */
static double cuttable(const Score *s, size_t u) {
    return s->outlook->cuttable[s->outlook->event_day - u];
}

/* Of one draw, for options: see the header. */
static void keep_draw(StepGains *g, size_t i, const double *drop,
                      const double *bend) {
    const Score *s = &g->scores->score[i];
    const Outlook *o = s->outlook;
    size_t n = g->scores->count, w = g->window;
    double tau3 = s->params.value[PARAM_TAU3];
    for (size_t u = 1; u <= w; u++) {
        size_t at = (u - 1) * n + i, day = o->event_day - u;
        double load = cuttable(s, u);
        g->drop[at] = drop[u - 1];
        if (s->linear)
            continue;
        g->bend[at] = load > 0 ? bend[(u - 1) * w + u - 1] / load : 0;
        g->kept[at] =
            u < w ? exp((o->load_time[day - 1] - o->load_time[day]) / tau3) : 0;
    }
}

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
    keep_draw(g, i, drop, bend);
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
        g->drop = mem_new(w * n, sizeof *g->drop);
        g->bend = mem_new(w * n, sizeof *g->bend);
        g->kept = mem_new(w * n, sizeof *g->kept);
        g->left = mem_new(n, sizeof *g->left);
        for (size_t i = 0; i < n; i++)
            add_draw(g, i, drop, bend);
    }
    free(drop);
    free(bend);
}

void step_gains_free(StepGains *g) {
    free(g->a);
    free(g->b);
    free(g->drop);
    free(g->bend);
    free(g->kept);
    free(g->gain);
    free(g->left);
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

/* From the farthest day on: what of the loads left out is remembered. */
static void set_option_gains(StepGains *g, const Option *option) {
    size_t n = g->scores->count;
    double *cut = mem_new(g->window, sizeof *cut);
    if (!g->a)
        draw_scores_gains(g->scores, option, g->gain);
    option_cuts(option, g->window, cut);
    for (size_t i = 0; i < n && g->a; i++)
        g->gain[i] = g->left[i] = 0;
    for (size_t u = g->a ? g->window : 0; u >= 1; u--) {
        double c = cut[u - 1], load = c * cuttable(&g->scores->score[0], u);
        const double *drop = g->drop + (u - 1) * n;
        const double *bend = g->bend + (u - 1) * n;
        const double *kept = g->kept + (u - 1) * n;
        for (size_t i = 0; i < n; i++) {
            g->left[i] = load + kept[i] * g->left[i];
            g->gain[i] -= c * (drop[i] + bend[i] * g->left[i]);
        }
    }
    free(cut);
}

static double helps(const StepGains *g) {
    size_t n = g->scores->count, better = 0;
    for (size_t i = 0; i < n; i++)
        better += g->gain[i] >
                  1e-12 * fabs(g->scores->score[i].base[0]); /* not rounding */
    return n ? (double)better / (double)n : NAN;
}

static Spread spread_of(StepGains *g) {
    Spread spread = {NAN, NAN, NAN, NAN, helps(g)};
    spread.gain_low = draws_quantile(g->gain, g->scores->count, .05);
    spread.gain_high = draws_quantile(g->gain, g->scores->count, .95);
    return spread;
}

double step_gains_helps(StepGains *g, size_t days, double cut) {
    set_gains(g, days, cut);
    return helps(g);
}

Spread step_gains_spread(StepGains *g, size_t days, double cut) {
    set_gains(g, days, cut);
    return spread_of(g);
}

Spread step_gains_option(StepGains *g, const Option *option) {
    set_option_gains(g, option);
    return spread_of(g);
}
