/* limit_words: see limit_words.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/limit_words.h"

#include "answers/limit_costs.h"

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

void limit_words_moved(const BestTaper *v, Limits moved, const char *words,
                       Text *text) {
    add_more(limit_costs_moved(v, &moved), v->search.items[v->search.best].gain,
             words, text);
}

static void add_sentence(const Limits *limits, LimitName name, Text *text) {
    Text words = {0};
    limits_words(limits, name, &words);
    words.data[0] = (char)toupper((unsigned char)words.data[0]);
    text_add(text, "%s%s.", text->length ? " " : "", text_of(&words));
    text_free(&words);
}

static void add_cost(const BestTaper *v, LimitName name, Text *text) {
    double gain = v->search.items[v->search.best].gain;
    add_sentence(&v->c->context->question->limits, name, text);
    if (gain > 0 && !add_more(limit_costs_lifted(v, name), gain,
                              "Without that the best", text))
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

void limit_words_given(const BestTaper *v, Text *text) {
    for (LimitName name = LIMIT_SESSIONS; name <= LIMIT_CUT_KINDS; name++)
        if (limits_given(&v->c->context->question->limits, name))
            add_cost(v, name, text);
    add_none(v, text);
}
