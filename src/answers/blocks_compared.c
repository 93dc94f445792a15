/* blocks_compared: see blocks_compared.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/blocks_compared.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static double load_of(const Outlook *o, const Option *option) {
    double *cut = mem_new(o->window, sizeof *cut), sum = 0;
    option_cuts(option, o->window, cut);
    for (size_t u = 1; u <= o->window; u++)
        sum += outlook_planned(o, o->event_day - u) -
               cut[u - 1] * o->cuttable[o->event_day - u];
    free(cut);
    return sum;
}

static void set_range(const Case *c, const double *value, size_t n,
                      BlocksWay *way) {
    double *copy = mem_new(n, sizeof *copy), a, b;
    for (size_t i = 0; i < n; i++)
        copy[i] = value[i];
    a = case_shown(c, draws_quantile(copy, n, .05));
    b = case_shown(c, draws_quantile(copy, n, .95));
    way->low = fmin(a, b);
    way->high = fmax(a, b);
    free(copy);
}

/* Readiness under each draw. */
static double *over_draws(const DrawScores *draws, const Option *option) {
    double *value = mem_new(draws->count, sizeof *value);
    draw_scores_gains(draws, option, value);
    for (size_t i = 0; i < draws->count; i++)
        value[i] += draws->none[i];
    return value;
}

static void set_change(const double *was, double *is, size_t n,
                       BlocksCompared *b) {
    size_t better = 0;
    for (size_t i = 0; i < n; i++) {
        is[i] -= was[i];
        better += is[i] > 0;
    }
    b->better = n ? (double)better / (double)n : NAN;
    b->low = draws_quantile(is, n, .05);
    b->high = draws_quantile(is, n, .95);
}

static void set_way(const Case *c, const Score *score, const Option *option,
                    BlocksWay *way) {
    way->load = load_of(&c->outlook, option);
    way->readiness = score_option(score, option);
    weeks_ahead_make(&c->usual, &c->daily, &way->weeks);
}

StatusCode blocks_compared_make(const Case *c, const Season *season,
                                BlocksCompared *b, Status *status) {
    const Question *q = c->context->question;
    Case other = *c;
    DrawScores draws;
    Score score;
    double *was, *is;
    StatusCode code;
    *b = (BlocksCompared){0};
    code = best_taper_build(c, &b->taper, status);
    if (code != STATUS_OK)
        return code;
    b->option = best_taper_option(
        &b->taper.search, q->option_count ? q->options[0].spec : "recommended");
    other.usual.season = season;
    outlook_build(&other.usual, &c->daily, c->event, c->before, &other.outlook);
    best_taper_score(&other, &other.outlook, &draws, &score);
    set_way(c, &b->taper.score, &b->option, &b->way[0]);
    set_way(&other, &score, &b->option, &b->way[1]);
    b->change = b->way[1].readiness - b->way[0].readiness;
    was = over_draws(&b->taper.draws, &b->option);
    is = over_draws(&draws, &b->option);
    set_range(c, was, draws.count, &b->way[0]);
    set_range(c, is, draws.count, &b->way[1]);
    set_change(was, is, draws.count, b);
    free(was);
    free(is);
    draw_scores_free(&draws);
    score_free(&score);
    outlook_free(&other.outlook);
    return STATUS_OK;
}

void blocks_compared_free(BlocksCompared *b) {
    best_taper_free(&b->taper);
    for (int i = 0; i < 2; i++)
        weeks_ahead_free(&b->way[i].weeks);
}
