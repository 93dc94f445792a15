/* footer: see footer.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/footer.h"

#include "output/words.h"
#include "present/grid.h"

#include <string.h>

enum { BEFORE_WORDS = 400 };

static void print_line(FILE *to, Text *text) {
    print_wrapped(to, text_of(text), 79, 2);
    text_clear(text);
}

static const char *before_words(const Case *c, char words[BEFORE_WORDS]) {
    if (c->context->question->before == BEFORE_NOTHING)
        return "no training (--before nothing)";
    if (c->context->question->before == BEFORE_STEADY)
        return "steady training at the mean of the first 28 days (default)";
    snprintf(words, BEFORE_WORDS,
             "steady training of %.3g a day, which fits %s's tests best (the "
             "first 28 days: %.3g)",
             c->before, c->name, daily_first_mean(&c->daily));
    return words;
}

static void print_changes(const Question *q, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    for (size_t i = 0; i < q->change_count; i++)
        text_add(&text, "%s%s %g",
                 i ? ", "
                   : "Loads as given, not as in the "
                     "files: ",
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
    if (text.length)
        print_line(to, &text);
    text_free(&text);
}

void footer_basis(const Context *d, const Case *c, FILE *to) {
    const Question *q = d->question;
    const Season *s = d->season;
    char before[BEFORE_WORDS];
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "Model%s%s%s: ",
             !q->model && !s->athletes[c->athlete].model ? " (default)" : "",
             d->chosen_count > 1 && d->model_count > 1 ? ", here of " : "",
             d->chosen_count > 1 && d->model_count > 1 ? c->name : "");
    words_model(case_model(c), &text);
    text_add(&text,
             ". Readiness = level + fitness - fatigue, read before the "
             "day's sessions%s.",
             c->daily.timed ? " (clock times used)" : "");
    print_line(to, &text);
    text_add(&text,
             "Load: %s%s. Today: %s (%s). Before the log: %s. Usual "
             "week: %s.",
             load_method_unit(s->method),
             s->method_given ? " (--load)" : " (found in the log)",
             date_write(day, s->today),
             q->read.today == DATE_NONE ? "the last logged day" : "as given",
             before_words(c, before),
             s->has_week ? "week.csv"
                         : "weekday means of the last 28 logged days, since "
                           "there is no week.csv");
    print_line(to, &text);
    print_changes(q, to);
    text_free(&text);
}

void footer_evidence(FILE *to) {
    print_wrapped(
        to,
        "Beside the model: published tapers worked best with 41-60 % less "
        "volume for 8-14 days, intensity and frequency kept (Bosquet et al. "
        "2007, Med Sci Sports Exerc 39:1358-1365), and brought about 3 %, "
        "usually 0.5-6 % (Mujika, Padilla 2003, Med Sci Sports Exerc "
        "35:1182-1187). Such models are not proven for planning ahead (Scarf "
        "et al. 2019, arXiv 1902.02061): weigh this against what you know of "
        "the athlete.",
        79, 2);
}

/* The cautions that concern everybody, behind those of some minors. */
static void print_cautions(Text *minors, bool several, FILE *to) {
    Text whole = {0};
    text_add(&whole, "Caution: ");
    if (minors->length)
        text_add(&whole,
                 "%s %s a minor: growing athletes' pain or lasting fatigue is "
                 "a reason to stop. ",
                 text_of(minors), several ? "are each" : "is");
    text_add(&whole,
             "No training with fever or illness; return from illness or injury "
             "is a physician's decision, and never add missed load back inside "
             "a taper. The rules of your club and federation come first.");
    print_wrapped(to, text_of(&whole), 79, 2);
    text_free(&whole);
    text_free(minors);
}

static void add_minor(const Context *d, size_t athlete, Text *minors) {
    const Athlete *a = &d->season->athletes[athlete];
    char shown[TEXT_EXCERPT];
    if (season_minor(a, d->season->today))
        text_add(minors, "%s%s", minors->length ? ", " : "",
                 text_excerpt(shown, a->name));
}

void footer_cautions(const Context *d, FILE *to) {
    Text minors = {0};
    size_t before, count = 0;
    for (size_t i = 0; i < d->chosen_count; i++) {
        before = minors.length;
        add_minor(d, d->chosen[i], &minors);
        count += minors.length > before;
    }
    print_cautions(&minors, count > 1, to);
}

void footer_case_cautions(const Case *c, FILE *to) {
    Text minors = {0};
    add_minor(c->context, c->athlete, &minors);
    print_cautions(&minors, false, to);
}

bool footer_note_is_about(const Note *n, const Case *c) {
    char athlete[TEXT_EXCERPT], event[TEXT_EXCERPT];
    if (n->file && strcmp(n->file, c->name) == 0)
        return true;
    text_excerpt(athlete, c->name);
    if (strstr(n->text, athlete))
        return true;
    return c->event && strstr(n->text, text_excerpt(event, c->event->name));
}

void footer_notes(const Case *c, FILE *to) {
    const Notes *notes = c->context->notes;
    for (size_t i = 0; i < notes->count; i++) {
        const Note *n = &notes->items[i];
        if (n->level != LEVEL_WARNING || !footer_note_is_about(n, c))
            continue;
        print_wrapped(to, n->text, 79, 2);
    }
}
