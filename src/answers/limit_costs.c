/* limit_costs: see limit_costs.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/limit_costs.h"

double limit_costs_moved(const BestTaper *v, const Limits *moved) {
    return search_best_gain(&v->c->outlook, &v->score, moved) -
           v->search.items[v->search.best].gain;
}

/* Best readiness within other limits, which may change the usual week too. */
static double best_readiness(const BestTaper *v, const Limits *limits) {
    const Case *c = v->c;
    Usual usual = c->usual;
    Outlook outlook;
    DrawScores draws;
    Score score;
    double best;
    if (limits->no_gym == 0)
        usual.gym_free = usual.gym_again;
    usual.cut_kinds = limits->cut_kinds;
    outlook_build(&usual, &c->daily, c->event, c->before, &outlook);
    best_taper_score(c, &outlook, &draws, &score);
    best = score_aim(&score, score.base) +
           search_best_gain(&outlook, &score, limits);
    score_free(&score);
    draw_scores_free(&draws);
    outlook_free(&outlook);
    return best;
}

double limit_costs_lifted(const BestTaper *v, LimitName name) {
    Limits lifted = case_limits(v->c);
    limits_lift(&lifted, name);
    if (name == LIMIT_NO_GYM || name == LIMIT_CUT_KINDS)
        return best_readiness(v, &lifted) -
               v->search.items[v->search.best].readiness;
    return limit_costs_moved(v, &lifted);
}
