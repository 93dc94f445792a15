/* footer: see footer.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/footer.h"

#include "answers/earlier_tapers.h"
#include "base/mem.h"
#include "output/taper_warnings.h"
#include "output/words.h"
#include "season/names.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- cautions ---- */

/* Those that concern everybody, behind those of some minors. */
static void add_caution(const Text *minors, bool several, Document *doc) {
    Text growing = {0};
    if (minors->length)
        text_add(
            &growing,
            "%s %s a minor, and in growing athletes pain or lasting fatigue "
            "is a reason to stop; ",
            text_of(minors), several ? "are each" : "is");
    document_words(doc, WORDS_CAUTION,
                   "Caution: %sno training with fever or illness; return from "
                   "illness or injury is a physician's decision; never add "
                   "missed load back; rules of club and federation come first.",
                   text_of(&growing));
    text_free(&growing);
}

static void add_minor(const Context *d, size_t athlete, Text *minors) {
    const Athlete *a = &d->season->athletes[athlete];
    char shown[TEXT_EXCERPT];
    if (season_minor(a, d->season->today))
        text_add(minors, "%s%s", minors->length ? ", " : "",
                 text_excerpt(shown, a->name));
}

void footer_caution(const Context *d, Document *doc) {
    Text minors = {0};
    size_t count = 0;
    for (size_t i = 0; i < d->chosen_count; i++) {
        size_t before = minors.length;
        add_minor(d, d->chosen[i], &minors);
        count += minors.length > before;
    }
    add_caution(&minors, count > 1, doc);
    text_free(&minors);
}

void footer_caution_one(const Case *c, Document *doc) {
    Text minors = {0};
    add_minor(c->context, c->athlete, &minors);
    add_caution(&minors, false, doc);
    text_free(&minors);
}

/* ---- notes ---- */

void footer_evidence(Document *doc) {
    document_words(
        doc, WORDS_PLAIN,
        "Beside the model: published tapers worked best with 41-60 %% less "
        "volume for 8-14 days, intensity and frequency kept (Bosquet et al. "
        "2007, Med Sci Sports Exerc 39:1358-1365), and brought about 3 %%, "
        "usually 0.5-6 %% (Mujika, Padilla 2003, Med Sci Sports Exerc "
        "35:1182-1187). Such models are not proven for planning ahead (Scarf "
        "et al. 2019, arXiv 1902.02061): weigh this against what you know of "
        "the athlete.");
}

static void add_before(const Case *c, Text *text) {
    Before before = c->context->question->before;
    if (before == BEFORE_NOTHING)
        text_add(text, "no training (--before nothing)");
    else if (before == BEFORE_STEADY)
        text_add(text, "steady training at the mean of the first 28 days "
                       "(default)");
    else
        text_add(text,
                 "steady training of %.3g a day, which fits %s's tests best "
                 "(the first 28 days: %.3g)",
                 c->before, c->name, daily_first_mean(&c->daily));
}

/* Loads and weekdays that were given on the command line. */
static void add_changes(const Question *q, Document *doc) {
    Text text = {0};
    char day[DATE_TEXT];
    for (size_t i = 0; i < q->change_count; i++)
        text_add(&text, "%s%s %g",
                 i ? ", " : "Loads as given, not as in the files: ",
                 date_write(day, q->changes[i].date), q->changes[i].load);
    if (q->change_count)
        text_add(&text, ". ");
    if (q->weekdays)
        text_add(&text, "Training to come on");
    for (int d = 0; d < 7; d++)
        if (q->weekdays & 1u << d)
            text_add(&text, " %s", date_weekday_name(d));
    if (q->weekdays)
        text_add(&text, " only (--only).");
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

static void add_model(const Context *d, const Case *c, Document *doc) {
    bool several = d->chosen_count > 1 && d->model_count > 1;
    Text text = {0};
    words_model(case_model(c), &text);
    document_words(doc, WORDS_PLAIN,
                   "Model%s%s%s: %s. Readiness (the predicted test result, or "
                   "the model's own scale) = level + fitness - fatigue, read "
                   "before the day's sessions%s.",
                   !d->question->model && !d->season->athletes[c->athlete].model
                       ? " (default)"
                       : "",
                   several ? ", here of " : "", several ? c->name : "",
                   text_of(&text), c->daily.timed ? " (clock times used)" : "");
    text_free(&text);
}

/* Share of the likely models in which fatigue grows with recent load. */
static double growing(const Case *c) {
    const Draws *draws = case_draws(c);
    size_t grows = 0;
    if (draws->count == 0)
        return case_model(c)->params.value[PARAM_K3] > 0;
    for (size_t i = 0; i < draws->count; i++)
        grows += draws->set[i].value[PARAM_K3] > 0;
    return (double)grows / (double)draws->count;
}

void footer_more_load(const Case *c, Words kind, Document *doc) {
    double share = growing(c);
    if (share <= 0)
        document_words(
            doc, kind,
            "To this model, which is linear, more load weeks before an event "
            "only adds, without end: it cannot say how much is too much. A "
            "model whose fatigue grows with recent load (--model busso-2003) "
            "knows an overshoot.");
    else
        document_words(
            doc, kind,
            "To a linear model more load weeks before an event only adds, "
            "without end; where fatigue grows with recent load (%.0f of 100 "
            "likely models here), beyond some load more brings less: an "
            "overshoot. Where that lies rests on few data, so no model says "
            "how much is too much.",
            100 * share);
}

/* Weeks with more load or less. */
static void add_blocks(const Case *c, Document *doc) {
    const Season *s = c->context->season;
    bool concerns = false;
    for (size_t i = 0; i < s->block_count; i++)
        concerns = concerns || s->blocks[i].athlete == NAMES_NONE ||
                   s->blocks[i].athlete == c->athlete;
    if (!concerns)
        return;
    document_words(doc, WORDS_PLAIN,
                   "Weeks to come: blocks.csv (load --ahead shows them); cuts "
                   "are shares of what they give.");
    footer_more_load(c, WORDS_PLAIN, doc);
}

/* What is taken to be done before a later event. */
static void add_earlier(const Case *c, Document *doc) {
    Text text = {0};
    earlier_tapers_words(c, &text);
    if (text.length)
        document_words(doc, WORDS_PLAIN,
                       "An event on the way is taken to have the taper "
                       "recommended for it, or what the plan handed out says, "
                       "carried out; the day after it is for recovery, of "
                       "which only what may not be cut stays (common practice, "
                       "no source). taper --joint weighs both events.");
    text_free(&text);
}

void footer_basis(const Context *d, const Case *c, Document *doc) {
    const Season *s = d->season;
    Text before = {0};
    char day[DATE_TEXT];
    add_model(d, c, doc);
    add_before(c, &before);
    document_words(
        doc, WORDS_PLAIN,
        "Load: %s%s. Today: %s (%s). Before the log: %s. Usual week: %s.",
        load_method_unit(s->method),
        s->method_given ? " (--load)" : " (found in the log)",
        date_write(day, s->today),
        d->question->read.today == DATE_NONE ? "the last logged day"
                                             : "as given",
        text_of(&before),
        c->usual.written ? "week.csv"
                         : "as in the log's last full weeks, those under 60 % "
                           "of the median week left out");
    add_blocks(c, doc);
    add_earlier(c, doc);
    add_changes(d->question, doc);
    text_free(&before);
}

/* ---- what was said while the files were read ---- */

static bool is_about(const Note *n, const Case *c) {
    bool about = false;
    for (int i = 0; i < 2 && n->about[i]; i++)
        about = about || strcmp(n->about[i], c->name) == 0 ||
                (c->event && strcmp(n->about[i], c->event->name) == 0);
    return about;
}

void footer_notes(const Case *c, Document *doc) {
    const Notes *notes = c->context->notes;
    for (size_t i = 0; i < notes->count; i++) {
        const Note *n = &notes->items[i];
        if (n->level != LEVEL_WARNING || !is_about(n, c))
            continue;
        document_words(doc, WORDS_ITEM, "%s", n->text);
    }
}

void footer(const Case *c, size_t searched, Document *doc) {
    footer_caution(c->context, doc);
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    if (searched) {
        footer_evidence(doc);
        taper_warnings_searched(c, searched, doc);
    }
    footer_basis(c->context, c, doc);
    document_close(doc, BLOCK_NOTES);
}
