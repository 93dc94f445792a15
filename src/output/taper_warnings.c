/* taper_warnings: see taper_warnings.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/taper_warnings.h"

#include "answers/earlier_tapers.h"
#include "base/mem.h"
#include "response/landmarks.h"
#include "season/names.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool limits_usual(const Limits *limits) {
    for (LimitName name = 0; name < LIMIT_NAMES; name++)
        if (limits_given(limits, name))
            return false;
    return true;
}

void taper_warnings_searched(const Case *c, size_t longest, Document *doc) {
    const Limits *l = &c->context->question->limits;
    Text text = {0};
    text_add(&text, "Searched%s:",
             limits_usual(l) ? " within the default limits" : "");
    for (int shape = SHAPE_STEP; shape <= SHAPE_REST; shape++)
        if (l->shapes & 1u << shape)
            text_add(&text, " %s,", shape_names[shape]);
    text_add(&text, " up to %zu days, cuts up to %.4g %%", longest, l->max_cut);
    if (l->shapes & 1u << SHAPE_REST)
        text_add(&text, ", full rest on at most the last %d days",
                 l->rest_days);
    for (LimitName name = LIMIT_SESSIONS; name <= LIMIT_CUT_KINDS; name++)
        if (limits_given(l, name)) {
            text_add(&text, "; ");
            limits_words(l, name, &text);
        }
    document_words(doc, WORDS_PLAIN, "%s.", text_of(&text));
    text_free(&text);
}

/* ---- warnings ---- */

enum { LOW_DAYS = 14 /* [d] of 28 with over half cut; our own */ };

/* Who gets which warning: those of the same words together. */
typedef struct {
    Names words;
    Text *who; /* of each */
    size_t room;
} Warnings;

static void warn(Warnings *w, const char *who, const char *words) {
    size_t before = w->words.count;
    size_t at = names_add(&w->words, words, strlen(words));
    w->who = mem_grow(w->who, &w->room, at + 1, sizeof *w->who);
    if (at == before)
        w->who[at] = (Text){0};
    text_add(&w->who[at], "%s%s", w->who[at].length ? ", " : "", who);
}

/* What nothing can be cut of, or NULL. */
static const char *nothing_to_cut(const Outlook *o) {
    if (o->may_go > 0)
        return NULL;
    if (o->window == 0)
        return "no day is left to cut: the event is too near.";
    if (o->stays > 0)
        return "nothing may be cut: all sessions until the event stay (keep, "
               "mobility, kinds that are not cut, days as given).";
    return "nothing can be cut: no training is planned until the event.";
}

static void warn_no_gain(const BestTaper *v, Warnings *w) {
    Landmarks marks = landmarks_of(&case_model(v->c)->params);
    const char *why = "", *nothing = nothing_to_cut(&v->c->outlook);
    char words[400];
    if (v->search.best > 0 || case_off(v->c))
        return;
    if (nothing) {
        warn(w, v->c->name, nothing);
        return;
    }
    if (!isfinite(marks.t_n))
        why = "Its fatigue gain is not above its fitness gain (or it has no "
              "fatigue), so each session helps from the day after and rest "
              "only loses fitness. That is an ordinary outcome of such models, "
              "not advice to train through: decide by the published evidence.";
    else if (marks.t_n < 1)
        why = "In it a session tires for less than a day, so there is nothing "
              "to taper for.";
    else if (v->score.linear && v->draws.count && best_taper_cut_days(v) == 0)
        why = "Over all likely models together a session gives more by then "
              "than it takes, though in some of them rest would help: the data "
              "cannot tell. Decide by the published evidence.";
    snprintf(words, sizeof words,
             "no taper raises readiness at the event in this model. %s", why);
    warn(w, v->c->name, words);
}

static void warn_of_percent(const BestTaper *v, Warnings *w) {
    double most = v->search.items[v->search.best].gain;
    if (best_taper_percent(v, best_taper_gain(v)) > 6)
        warn(w, v->c->name,
             "the gain lies beyond published experience (0.5-6 %): do not "
             "expect it.");
    else if (most > 0 && best_taper_hardly_matters(v, most) &&
             v->c->outlook.window >= 5)
        warn(w, v->c->name,
             "the gain is less than published tapers brought (0.5-6 %): a "
             "taper hardly matters here.");
}

static void warn_of_time(const BestTaper *v, Warnings *w) {
    size_t window = v->c->outlook.window;
    char words[200];
    if (window < 5)
        snprintf(words, sizeof words,
                 "only %zu day%s can be cut, too few for a taper to change "
                 "much; keep calm and rest well.",
                 window, window == 1 ? "" : "s");
    else if (window == best_taper_cut_days(v))
        snprintf(words, sizeof words,
                 "%zu days are left, and in all of them this model would cut; "
                 "it would have begun earlier.",
                 window);
    else
        return;
    warn(w, v->c->name, words);
}

/* The caution that a build-up deserves, and for whom none was searched. */
static void add_build_up(const BestTaper *const *all, size_t count,
                         Document *doc) {
    const BestTaper *v = all[0];
    Text without = {0};
    if (v->c->context->question->limits.build_up <= 0)
        return;
    for (size_t i = 0; i < count; i++)
        if (case_limits(all[i]->c).build_up <= 0)
            text_add(&without, "%s%s", without.length ? ", " : "",
                     all[i]->c->name);
    if (without.length)
        document_words(doc, WORDS_ITEM,
                       "No build-up for %s: a minor, or off lately or soon.",
                       text_of(&without));
    text_free(&without);
    document_words(
        doc, WORDS_ITEM,
        "Build-up: more load than usual is searched because it was asked for. "
        "It is for healthy, full-grown athletes who are used to such loads; "
        "never for minors, after illness or injury, or in heat. Stop it at "
        "pain, poor sleep or lasting fatigue, and ask a physician. Its worth "
        "rests on a simulation (28 days at +20 %%: Thomas, Busso 2005, Med Sci "
        "Sports Exerc 37:1615-1621).");
    if (response_linear(case_model(v->c)->params.kind))
        document_words(doc, WORDS_ITEM,
                       "This model is linear: to it more load weeks before "
                       "always looks better, so it cannot judge a build-up. "
                       "--model busso-2003, whose fatigue grows with the dose, "
                       "can.");
}

static void absence_words(const Case *c, const Absence *a, Text *text) {
    char to[DATE_TEXT];
    text_add(text, "off until %s (%s)%s", date_write_short(to, a->to),
             absence_reasons[a->reason],
             a->return_days ? ", then a graded return" : "");
    if (a->to < c->event->start && c->event->start <= a->to + a->return_days)
        text_add(text, " until %s, over the event: no match then",
                 date_write_short(to, a->to + a->return_days));
    if (a->reason == ABSENCE_ILLNESS || a->reason == ABSENCE_INJURY)
        text_add(text, "; a physician decides when and how much, and what "
                       "looks like readiness may be illness.");
    else
        text_add(text, ".");
}

static void warn_of_absence(const BestTaper *v, Warnings *w) {
    const Season *s = v->c->context->season;
    for (size_t i = 0; i < s->absence_count; i++) {
        Text text = {0};
        if (!case_absent(v->c, &s->absences[i]))
            continue;
        absence_words(v->c, &s->absences[i], &text);
        warn(w, v->c->name, text_of(&text));
        text_free(&text);
    }
}

void taper_warnings_absences(const Case *c, Text *text) {
    const Season *s = c->context->season;
    for (size_t i = 0; i < s->absence_count; i++) {
        if (!case_absent(c, &s->absences[i]))
            continue;
        text_add(text, "%sYou: ", text->length ? " " : "");
        absence_words(c, &s->absences[i], text);
    }
}

/* A long spell of low load costs fitness. */
static void warn_of_spell(const BestTaper *v, Warnings *w) {
    char words[200], day[DATE_TEXT];
    if (v->low <= LOW_DAYS)
        return;
    snprintf(words, sizeof words,
             "in the 28 days from %s more than half is cut on %zu: so long a "
             "spell of low load costs fitness and skill; --min-week-load or "
             "--max-length bounds it.",
             date_write_short(day, v->low_from), v->low);
    warn(w, v->c->name, words);
}

/* What is taken to be done before the event: of one athlete a line. */
static void warn_of_earlier(const BestTaper *v, bool alone, Warnings *w,
                            Document *doc) {
    Text text = {0};
    earlier_tapers_words(v->c, &text);
    if (text.length && alone)
        document_words(doc, WORDS_ITEM, "B%s", text_of(&text) + 1);
    else if (text.length)
        warn(w, v->c->name, text_of(&text));
    text_free(&text);
}

void taper_warnings(const BestTaper *const *v, size_t count, Document *doc) {
    Warnings w = {0};
    for (size_t i = 0; i < count; i++) {
        if (!best_taper_silent(v[i])) {
            warn_no_gain(v[i], &w);
            warn_of_percent(v[i], &w);
        }
        warn_of_time(v[i], &w);
        warn_of_absence(v[i], &w);
        warn_of_earlier(v[i], count == 1, &w, doc);
        warn_of_spell(v[i], &w);
    }
    for (size_t i = 0; i < w.words.count; i++) {
        document_words(doc, WORDS_ITEM, "%s: %s", text_of(&w.who[i]),
                       w.words.items[i]);
        text_free(&w.who[i]);
    }
    if (count > 0)
        add_build_up(v, count, doc);
    names_free(&w.words);
    free(w.who);
}
