/* record_text: see record_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/record_text.h"

#include "answers/joint_record.h"
#include "base/mem.h"
#include "output/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void record_text_events(const Context *d, size_t athlete, Text *text) {
    const char **name = mem_new(d->season->event_count, sizeof *name);
    size_t count = joint_record_events(d, athlete, name);
    for (size_t k = 0; k < count; k++)
        text_add(text, "%s%s",
                 k == 0           ? ""
                 : k + 1 == count ? " and "
                                  : ", ",
                 name[k]);
    free(name);
}

/* Smallest and largest change of readiness [%] over the athletes. */
typedef struct {
    double low, high;
} Range;

/* No sign of less before 0. */
static double tidy(double percent) {
    return fabs(percent) < .05 ? 0 : percent;
}

static void widen(Range *range, double percent) {
    range->low = fmin(range->low, percent);
    range->high = fmax(range->high, percent);
}

static void range_words(const Range *range, Text *text) {
    char low[FIGURE_TEXT], high[FIGURE_TEXT];
    snprintf(low, sizeof low, "%+.1f", tidy(range->low));
    snprintf(high, sizeof high, "%+.1f", tidy(range->high));
    if (text_same(low, high))
        text_add(text, "%s %%", low);
    else
        text_add(text, "%s to %s %%", low, high);
}

/* The event that is harmed, if it is the same for all; NULL: none, or several.
 */
static const Event *harmed_of(const BestTaper *v, size_t count) {
    const Event *one = NULL;
    for (size_t i = 0; i < count; i++) {
        const WeighedPlan *w = v[i].handed.weighed;
        if (!w || !w->harmed)
            continue;
        if (one && one != w->harmed)
            return NULL;
        one = w->harmed;
    }
    return one;
}

/* What following the one event's taper would change. */
static void add_alone(const BestTaper *v, size_t count, Document *doc) {
    Range here = {INFINITY, -INFINITY}, there = here;
    const Event *harmed = harmed_of(v, count);
    const BestTaper *first = NULL;
    Text at = {0}, other = {0};
    for (size_t i = 0; i < count; i++) {
        const WeighedPlan *w = v[i].handed.weighed;
        if (!w || !isfinite(best_taper_percent(&v[i], w->here)))
            continue;
        first = first ? first : &v[i];
        widen(&here, best_taper_percent(&v[i], w->here));
        widen(&there, best_taper_percent(&v[i], w->there));
    }
    range_words(&here, &at);
    if (there.low > -.05) {
        text_add(&other, "and harm no other");
    } else {
        text_add(&other, "at %s by ",
                 harmed ? harmed->name : "the other that it harms most");
        range_words(&there, &other);
    }
    if (first)
        document_words(doc, WORDS_PLAIN,
                       "What follows is for %s alone. In the place of the plan "
                       "handed out it would change readiness there by %s, %s.",
                       first->c->event->name, text_of(&at), text_of(&other));
    text_free(&at);
    text_free(&other);
}

void record_text_takes(const char *who, Text *text) {
    text_add(text,
             "%s%s%s is forecast to take more than it gives, and no new plan "
             "would give more: carry it on only for what the model does not "
             "know (the team, say, or travel); else train as usual, no more",
             who ? "For " : "", who ? who : "",
             who ? " the plan handed out" : "It");
}

void record_text(const BestTaper *v, size_t count, Document *doc) {
    Text who = {0}, events = {0}, take = {0}, words = {0};
    const BestTaper *first = NULL;
    size_t worth = 0;
    char day[DATE_TEXT];
    for (size_t i = 0; i < count; i++) {
        if (!v[i].handed.weighed)
            continue;
        first = first ? first : &v[i];
        if (best_taper_replan(&v[i]))
            text_add(&who, "%s%s", worth++ ? ", " : "", v[i].c->name);
        if (best_taper_takes(&v[i]))
            text_add(&take, "%s%s", take.length ? ", " : "", v[i].c->name);
    }
    if (!first)
        return;
    if (take.length)
        record_text_takes(text_of(&take), &words);
    record_text_events(first->c->context, first->c->athlete, &events);
    document_words(
        doc, WORDS_LEAD,
        "The plan handed out on %s weighs %s together. %s%s%s.%s%s%s",
        date_write_short(day, first->handed.issued), text_of(&events),
        worth ? "Replanning is worth it for "
              : "It stands for them together: carry it on",
        text_of(&who), worth ? " (plan --joint)" : "", take.length ? " " : "",
        text_of(&words), take.length ? "." : "");
    add_alone(v, count, doc);
    text_free(&take);
    text_free(&words);
    text_free(&who);
    text_free(&events);
}
