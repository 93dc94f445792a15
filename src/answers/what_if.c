/* what_if: see what_if.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/what_if.h"

#include <math.h>

static const Shape shapes[WHAT_IF_SHAPES] = {SHAPE_STEP, SHAPE_LINEAR,
                                             SHAPE_EXPONENTIAL};

/* The same falls as the search tries: from no cut on the first day. */
static Option option_of(size_t shape, size_t days, size_t cut) {
    static const char falls[WHAT_IF_SHAPES] = {'x', '-', '~'};
    double to = (double)(WHAT_IF_LEAST + WHAT_IF_STEP * cut);
    char fall = days > 1 ? falls[shape] : 'x';
    return (Option){.count = 1,
                    .part = {{(int)days, fall == 'x' ? to : 0, to, fall}}};
}

double what_if_unit(const WhatIf *t, double gain) {
    if (t->percent)
        return best_taper_percent(t->v, gain);
    return t->v->possible > 0 ? 100 * gain / t->v->possible : NAN;
}

static void fill(WhatIf *t, const Limits *limits, const Option *o,
                 WhatIfCell *cell) {
    const BestTaper *v = t->v;
    Spread spread = draw_scores_gain(&v->draws, o, v->work);
    double gain = score_option(&v->score, o) - v->search.items[0].readiness;
    cell->there = true;
    cell->outside = !search_allows(&v->c->outlook, limits, o);
    cell->gain = what_if_unit(t, gain);
    cell->low = what_if_unit(t, spread.gain_low);
    cell->high = what_if_unit(t, spread.gain_high);
    cell->helps = spread.beats_none;
}

void what_if_build(const BestTaper *v, WhatIf *t) {
    Limits limits = case_limits(v->c);
    *t = (WhatIf){.v = v,
                  .days = v->c->outlook.window,
                  .percent = isfinite(best_taper_percent(v, 0))};
    if (t->days > WHAT_IF_DAYS)
        t->days = WHAT_IF_DAYS;
    for (size_t shape = 0; shape < WHAT_IF_SHAPES; shape++)
        for (size_t days = 1; days <= t->days; days++)
            for (size_t cut = 0; cut < WHAT_IF_CUTS; cut++) {
                Option o = option_of(shape, days, cut);
                /* a share a day never comes to nothing */
                if (o.part[0].fall != '~' || o.part[0].to < 100)
                    fill(t, &limits, &o, &t->cell[shape][days - 1][cut]);
            }
}

void what_if_place(const WhatIf *t, const Option *o, size_t *days, size_t *cut,
                   size_t *shape) {
    double at = (option_cut(o) - WHAT_IF_LEAST) / WHAT_IF_STEP;
    int longest = option_days(o) - option_build_days(o);
    *days = (size_t)fmin((double)t->days, fmax(1, longest));
    *cut = (size_t)floor(fmin(WHAT_IF_CUTS - 1, fmax(0, at)) + .5);
    *shape = 0;
    for (size_t i = 0; i < WHAT_IF_SHAPES; i++)
        if (option_shape(o) == shapes[i])
            *shape = i;
}
