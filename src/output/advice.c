/* advice: see advice.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/advice.h"

#include "base/mem.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

size_t advice_last_session(const Score *s) {
    for (size_t u = 1; u <= s->window; u++)
        if (score_drop(s, u) > 0)
            return u;
    return 0;
}

/* Among the likely models, by their 5 % and 95 % points [d]; a model in which
 * none of the sessions left helps counts as one day earlier than the first of
 * them. */
static void add_likely(const BestTaper *v, Text *text) {
    size_t n = v->draws.count, window = v->c->outlook.window;
    double *days = mem_new(n, sizeof *days), low, high;
    for (size_t i = 0; i < n; i++) {
        size_t last = 1;
        while (last <= window && draw_scores_drop(&v->draws, i, last) <= 0)
            last++;
        days[i] = (double)last;
    }
    low = draws_quantile(days, n, .05);
    high = draws_quantile(days, n, .95);
    free(days);
    if (n == 0)
        return;
    if (high > (double)window)
        text_add(text, " (90 %% range %.0f to more than %zu)", low, window);
    else
        text_add(text, " (90 %% range %.0f to %.0f)", low, high);
}

/* In a variable-dose model a session's worth hangs on all others: there is no
 * last one that helps. */
static bool has_last(const BestTaper *v) {
    return best_taper_cut_days(v) > 0;
}

static void add_one(const BestTaper *v, Document *doc) {
    size_t last = advice_last_session(&v->score);
    char day[DATE_TEXT];
    Text text = {0};
    if (!has_last(v))
        return;
    if (last == 0) {
        text_add(&text,
                 "None of the sessions left before the event still helps it: "
                 "the last one that did lies behind you.");
    } else {
        text_add(&text,
                 "The last session that still helps lies %zu day%s before the "
                 "event",
                 last, last == 1 ? "" : "s");
        add_likely(v, &text);
        text_add(&text, ", on %s.",
                 date_write_short(day, v->c->event->start - (Date)last));
    }
    document_words(doc, WORDS_ITEM, "%s", text_of(&text));
    text_free(&text);
}

static void add_squad(const BestTaper *v, size_t count, Document *doc) {
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        size_t last = advice_last_session(&v[i].score);
        if (!has_last(&v[i]))
            continue;
        text_add(&text, "%s%s ", text.length ? ", " : "", v[i].c->name);
        if (last)
            text_add(&text, "%zu", last);
        else
            text_add(&text, "none left");
    }
    if (text.length)
        document_words(doc, WORDS_ITEM,
                       "The last session that still helps, in days before the "
                       "event: %s.",
                       text_of(&text));
    text_free(&text);
}

void advice_last(const BestTaper *v, size_t count, Document *doc) {
    if (count == 1)
        add_one(v, doc);
    else
        add_squad(v, count, doc);
}
