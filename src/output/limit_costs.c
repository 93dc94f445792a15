/* limit_costs: see limit_costs.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/limit_costs.h"

#include <ctype.h>

/* "WORDS would bring 12 % more gain"; `more` counts in the gain of the best. */
static bool add_more(double more, double best, const char *words, Text *text) {
    double percent = 100 * more / best;
    if (!(best > 0) || !(percent > 1e-7))
        return false;
    text_add(text, " %s would bring %.0f %% more gain.", words,
             percent < 1 ? 1 : percent);
    return true;
}

void limit_costs_moved(const BestTaper *v, Limits moved, const char *words,
                       Text *text) {
    double best = v->search.items[v->search.best].gain;
    double gain = search_best_gain(&v->c->outlook, &v->score, &moved);
    add_more(gain - best, best, words, text);
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

static void add_sentence(const Limits *limits, LimitName name, Text *text) {
    Text words = {0};
    limits_words(limits, name, &words);
    words.data[0] = (char)toupper((unsigned char)words.data[0]);
    text_add(text, "%s%s.", text->length ? " " : "", text_of(&words));
    text_free(&words);
}

static void add_cost(const BestTaper *v, LimitName name, Text *text) {
    const Found *best = &v->search.items[v->search.best];
    Limits lifted = v->c->context->question->limits;
    double more;
    limits_lift(&lifted, name);
    if (name == LIMIT_NO_GYM || name == LIMIT_CUT_KINDS)
        more = best_readiness(v, &lifted) - best->readiness;
    else
        more =
            search_best_gain(&v->c->outlook, &v->score, &lifted) - best->gain;
    add_sentence(&v->c->context->question->limits, name, text);
    if (best->gain > 0 &&
        !add_more(more, best->gain, "Without that the best", text))
        text_add(text, " That costs no gain.");
}

/* The usual week itself may break a limit. */
static void add_none(const BestTaper *v, Text *text) {
    Option none = {.count = 0};
    Text why = {0};
    if (v->search.none_outside) {
        search_outside(&v->c->outlook, &v->c->context->question->limits, &none,
                       &why);
        text_add(text,
                 "%sTraining as usual lies outside these limits: %s. So only "
                 "tapers that mend this are tried%s.",
                 text->length ? " " : "", text_of(&why),
                 v->search.items[v->search.best].gain < 0
                     ? ", and even the best of them costs readiness"
                     : "");
    }
    text_free(&why);
}

void limit_costs_given(const BestTaper *v, Text *text) {
    for (LimitName name = LIMIT_SESSIONS; name <= LIMIT_CUT_KINDS; name++)
        if (limits_given(&v->c->context->question->limits, name))
            add_cost(v, name, text);
    add_none(v, text);
}
