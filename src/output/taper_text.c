/* taper_text: see taper_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/taper_text.h"

#include "answers/deviation.h"
#include "base/mem.h"
#include "cases/models.h"
#include "output/advice.h"
#include "output/event_days_text.h"
#include "output/footer.h"
#include "output/limit_words.h"
#include "output/record_text.h"
#include "output/taper_warnings.h"
#include "output/team_text.h"
#include "output/words.h"
#include "season/names.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const Found *recommended(const BestTaper *v) {
    return &v->search.items[v->search.recommended];
}

static void first_day(const Case *c, const Option *option,
                      char text[DATE_TEXT]) {
    date_write_short(text, c->event->start - (Date)option_days(option));
}

/* ---- what to do ---- */

/* "from Thu 16 Apr, 9 days with 60 % less volume". */
static void add_days(const Case *c, const Option *option, Text *text) {
    char day[DATE_TEXT];
    if (option->count) {
        first_day(c, option, day);
        text_add(text, "from %s, ", day);
    }
    option_words(option, text);
}

void taper_text_lead(const Case *c, const Option *option, Text *text) {
    add_days(c, option, text);
    text_add(text, option->count == 0 && case_off(c)
                       ? "; off when the event begins."
                   : option->count == 0 ? "; train as usual until the event."
                   : option_shape(option) == SHAPE_REST
                       ? "; train as usual until then, easy mobility is fine."
                       : "; intensity and number of sessions as usual.");
}

void taper_text_carried(const BestTaper *v, Text *text) {
    Option own = best_taper_own(v), common = best_taper_common(v->c, &own);
    if (isnan(v->together)) {
        taper_text_lead(v->c, &recommended(v)->option, text);
        return;
    }
    text_add(text, "sessions of the team ");
    add_days(v->c, &common, text);
    if (team_names_alone(&v->team)) {
        text_add(text, "; their own ");
        if (v->trains_on)
            text_add(text, "as usual");
        else
            add_days(v->c, &own, text);
    }
    text_add(text, "; intensity as usual.");
}

/* "It helps in 91 of 100 likely models; ...", of what is carried out, appended;
 * nothing of no taper. */
static void add_sureness(const BestTaper *v, Text *text) {
    double share = v->spread.beats_none, gain = best_taper_gain(v);
    char number[FIGURE_TEXT];
    Text range = {0};
    if (recommended(v)->option.count == 0 && isnan(v->together))
        return;
    if (isfinite(share))
        text_add(text, "It helps in %.0f of 100 likely models", 100 * share);
    if (isfinite(best_taper_percent(v, gain)))
        text_add(text, "%s%s",
                 share >= 0 ? "; expected gain " : "Expected gain ",
                 words_gain(number, v, gain));
    words_gain_range(v, &v->spread, &range);
    if (range.length)
        text_add(text, " (90 %% range %s)", text_of(&range));
    text_free(&range);
    if (text->length)
        text_add(text, ". ");
}

/* Are there tests that are not used, since the model asked for stands as it is?
 */
static bool unused_tests(const Case *c) {
    const Context *d = c->context;
    return d->models[c->model]->tests == 0 && models_asked(d, c->athlete) &&
           d->season->athletes[c->athlete].test_count > 0;
}

enum { FEW_TESTS = 8 };

/* What the tests say, in one sentence; where they show clearly that training
 * moves them (the bound that `fit` has), not that they say little. */
static void add_tests(const Case *c, Text *text) {
    const CaseModel *model = c->context->models[c->model];
    size_t tests = model->tests;
    if (unused_tests(c)) {
        text_add(text,
                 "Tests are not used: this rests on the model '%s' alone.",
                 models_asked(c->context, c->athlete));
        return;
    }
    if (tests == 0 && model->own)
        text_add(text, "No tests of their own that can be used: this rests on "
                       "the squad's others.");
    else if (tests == 0)
        text_add(text, "No tests%s: this rests on the literature alone.",
                 c->context->season->athletes[c->athlete].test_count
                     ? " that can be used"
                     : "");
    else if (tests < FEW_TESTS && model->bayes < log(20))
        text_add(text,
                 "%zu test%s little of how much a taper gains: that rests "
                 "mostly on the literature.",
                 tests, tests == 1 ? " says" : "s say");
    else
        text_add(text,
                 "It starts from published values and is adjusted by %zu "
                 "tests%s.",
                 tests, tests < FEW_TESTS ? ", which are few" : "");
}

/* ---- one athlete's options ---- */

typedef bool (*Fits)(const Option *);

static bool is_step(const Option *o) {
    return option_shape(o) == SHAPE_STEP;
}

static bool is_linear(const Option *o) {
    return option_shape(o) == SHAPE_LINEAR;
}

static bool is_exponential(const Option *o) {
    return option_shape(o) == SHAPE_EXPONENTIAL;
}

static bool is_two_step(const Option *o) {
    return option_shape(o) == SHAPE_TWO_STEP;
}

static bool is_rest(const Option *o) {
    return option_shape(o) == SHAPE_REST;
}

static bool is_scaled(const BestTaper *v) {
    return isfinite(best_taper_percent(v, 0));
}

/* `spread`: NULL of no taper. */
static void gain_cells(Grid *grid, const BestTaper *v, double gain, double kept,
                       const Spread *spread) {
    double readiness = v->search.items[0].readiness + gain;
    char number[FIGURE_TEXT];
    if (is_scaled(v)) {
        grid_cell(grid, "%s",
                  words_figure(number, case_shown(v->c, readiness),
                               best_taper_scale(v)));
        grid_cell(grid, "%s", spread ? words_gain(number, v, gain) : "-");
        words_gain_cell(grid, v, spread);
    } else {
        grid_cell(grid, "%s",
                  words_percent(number, search_share(gain, v->possible)));
    }
    grid_cell(grid, "%s", words_percent(number, kept));
    words_helps_cell(grid, spread ? spread->beats_none : NAN);
}

static void option_row(Grid *grid, const BestTaper *v, const Found *f,
                       const char *what) {
    Text spec = {0};
    Spread spread = best_taper_spread(v, &f->option);
    option_write(&f->option, &spec);
    grid_cell(grid, "%s", what);
    grid_cell(grid, "%s", text_of(&spec));
    gain_cells(grid, v, f->gain, f->kept, f->option.count ? &spread : NULL);
    text_free(&spec);
}

/* Of the tapers that the sessions of the team and their own follow. */
static void carried_row(Grid *grid, const BestTaper *v) {
    Option own = best_taper_own(v), common = best_taper_common(v->c, &own);
    Text spec = {0};
    option_write(&common, &spec);
    grid_cell(grid, "with the team");
    grid_cell(grid, "%s",
              team_names_alone(&v->team) ? "as above" : text_of(&spec));
    gain_cells(grid, v, v->together, v->kept, &v->spread);
    text_free(&spec);
}

/* Without a scale of a test only shares mean something. */
static void options_start(Grid *grid, const BestTaper *v) {
    static const GridColumn scaled[] = {
        {"", false},       {"taper", false},      {"readi-\nness", true},
        {"gain", true},    {"90 %\nrange", true}, {"training\nkept", true},
        {"helps in", true}};
    static const GridColumn shares[] = {{"", false},
                                        {"taper", false},
                                        {"of the largest\ngain possible", true},
                                        {"training\nkept", true},
                                        {"helps in", true}};
    if (is_scaled(v))
        grid_start(grid, scaled, 7);
    else
        grid_start(grid, shares, 5);
}

static void shape_row(Grid *grid, const BestTaper *v, Fits fits,
                      const char *what) {
    const Search *s = &v->search;
    size_t best = best_taper_where(s, fits);
    if (best > 0 && best != s->best && best != s->recommended)
        option_row(grid, v, &s->items[best], what);
}

void taper_text_options(const BestTaper *v, Document *doc) {
    const Search *s = &v->search;
    Grid grid;
    options_start(&grid, v);
    option_row(&grid, v, &s->items[0], "no taper");
    if (!isnan(v->together))
        carried_row(&grid, v);
    if (s->recommended > 0)
        option_row(&grid, v, recommended(v),
                   v->given             ? "given"
                   : isnan(v->together) ? "recommended"
                                        : "own in all");
    if (s->best > 0 && s->best != s->recommended)
        option_row(&grid, v, &s->items[s->best], "gains most");
    shape_row(&grid, v, best_taper_published, "as published");
    document_table(doc, &grid, "");
}

/* The best of each shape, for the notes. */
static void add_shapes(const BestTaper *v, Document *doc) {
    Grid grid;
    options_start(&grid, v);
    shape_row(&grid, v, is_step, "step");
    shape_row(&grid, v, is_two_step, "two steps");
    shape_row(&grid, v, is_linear, "straight fall");
    shape_row(&grid, v, is_exponential, "curved fall");
    shape_row(&grid, v, is_rest, "rest");
    if (grid.cell_count > 0) {
        document_words(doc, WORDS_PLAIN, "The best of each other shape:");
        document_table(doc, &grid, "");
    }
    grid_free(&grid);
}

/* ---- what it costs to deviate ---- */

static void add_deviation(const BestTaper *v, int days, double points,
                          const char *words, Text *text) {
    double change = deviation_change(v, days, points);
    if (fabs(change) > 1)
        text_add(text, "%s %s %s over 100 %%", text->length ? "," : "", words,
                 change < 0 ? "loses" : "adds");
    else if (fabs(change) >= .005)
        text_add(text, "%s %s %s %.0f %%", text->length ? "," : "", words,
                 change < 0 ? "loses" : "adds", 100 * fabs(change));
}

static void add_deviations(const BestTaper *v, Document *doc) {
    Text text = {0};
    if (v->search.recommended == 0 || !(recommended(v)->gain > 0) ||
        !isnan(v->together))
        return;
    add_deviation(v, -3, 0, "3 days shorter", &text);
    add_deviation(v, 3, 0, "3 days longer", &text);
    add_deviation(v, 0, -20, "20 points less cut", &text);
    add_deviation(v, 0, 20, "20 points more cut", &text);
    if (text.length)
        document_words(doc, WORDS_ITEM, "If you deviate:%s of the gain.",
                       text_of(&text));
    text_free(&text);
}

/* ---- limits ---- */

static void add_cut_limit(const BestTaper *v, const Limits *limits,
                          Text *text) {
    Limits moved = *limits;
    char words[96];
    moved.max_cut = fmin(100, limits->max_cut + 5);
    snprintf(words, sizeof words, "One step more (%.4g %%)", moved.max_cut);
    text_add(text, "The largest gain lies on the limit of the cut (%.4g %%).",
             limits->max_cut);
    limit_words_moved(v, moved, words, text);
    moved.max_cut = 100;
    if (limits->max_cut + 5 < 100)
        limit_words_moved(v, moved, "Full rest for as long", text);
}

static void add_length_limit(const BestTaper *v, const Limits *limits,
                             Text *text) {
    Limits moved = *limits;
    moved.max_length++;
    text_add(text,
             "%sThe largest gain lies on the limit of the length (%d days).",
             text->length ? " " : "", limits->max_length);
    if (v->c->outlook.window < (size_t)moved.max_length)
        text_add(text, " There is no day more before the event.");
    else
        limit_words_moved(v, moved, "One day more", text);
}

static void add_why(const BestTaper *v, Text *text) {
    size_t days = best_taper_cut_days(v);
    if (days == 0)
        return;
    text_add(text,
             " Why: in this model a session in the last %zu day%s before the "
             "event adds more fatigue than fitness by then, so it always asks "
             "for the largest cut allowed in those days and for none before. "
             "It knows nothing of skill, sharpness and morale, which is why "
             "there is a limit.",
             days, days == 1 ? "" : "s");
}

/* Where the best lies on a limit, for the notes. */
static void add_limits(const BestTaper *v, bool named, Document *doc) {
    const Limits *limits = &v->c->context->question->limits;
    const Search *s = &v->search;
    const Option *best = &s->items[s->best].option;
    Text text = {0};
    if (s->best == 0)
        return;
    if (option_cut(best) >= limits->max_cut && limits->max_cut < 100 &&
        option_shape(best) != SHAPE_REST)
        add_cut_limit(v, limits, &text);
    if (option_days(best) >= limits->max_length)
        add_length_limit(v, limits, &text);
    if (text.length)
        add_why(v, &text);
    document_words(doc, WORDS_PLAIN, "%s%s%s",
                   named && text.length ? v->c->name : "",
                   named && text.length ? ": " : "", text_of(&text));
    text_free(&text);
}

/* What limits that were given cost: part of the answer. */
static void add_costs(const BestTaper *v, bool named, Document *doc) {
    Text text = {0};
    if (v->search.best == 0)
        return;
    limit_words_given(v, &text);
    if (text.length)
        document_words(doc, WORDS_ITEM, "%s%s%s", named ? v->c->name : "",
                       named ? ": " : "", text_of(&text));
    text_free(&text);
}

/* ---- notes ---- */

static const char *how_decided(const BestTaper *v) {
    const Assigned *a = best_taper_assigned(v->c);
    return v->given ? "Given, not searched for."
           : a && !a->known
               ? "Recommended: the gentle end of the published band, "
                 "for want of tests that tell more."
           : v->c->context->question->individual || !a || a->athletes == 1
               ? "Recommended: for each athlete alone."
               : "Recommended: decided for the squad together, as few "
                 "different tapers as cost it at most 5 % of the gain that is "
                 "possible and nobody over 15 % of their own (--individual: "
                 "each one's own; --groups N: at most N). Those who train "
                 "mostly "
                 "with the team have one taper, the best for them together.";
}

void taper_text_legend(const BestTaper *v, Document *doc) {
    char share[FIGURE_TEXT], most[FIGURE_TEXT];
    bool figures = case_has_figures(v->c);
    document_words(
        doc, WORDS_PLAIN,
        "%s Among options that differ by less than 5 %% in expected gain those "
        "in the published band come first, then fewer parts, then more "
        "training "
        "kept. Gain: over no taper, in "
        "per cent of readiness; 90 %% range: where it lies in 90 of 100 likely "
        "models; helps in: models in which it gains at all; training kept: of "
        "the load planned in the last %zu days. Every probability holds if "
        "these models hold.",
        how_decided(v), v->search.days);
    if (v->possible > 0)
        document_words(
            doc, WORDS_PLAIN,
            "%s: the recommended taper brings %s of the largest gain possible "
            "within the limits by any daily loads%s%s%s.",
            v->c->name,
            words_percent(share,
                          search_share(recommended(v)->gain, v->possible)),
            figures ? " (" : "",
            figures ? words_figure(most, v->possible, best_taper_scale(v)) : "",
            figures ? " in readiness)" : "");
    if (!case_level_known(v->c))
        document_words(doc, WORDS_PLAIN,
                       "Readiness is in the model's own scale: no test ties it "
                       "to a unit, so only differences mean something.");
}

static void add_notes(const Context *d, const BestTaper *v, size_t count,
                      Document *doc) {
    TeamNames team = {0};
    for (size_t i = 0; i < count; i++)
        team_names_join(&team, &v[i].team);
    document_open(doc, BLOCK_NOTES, NULL, "Assumptions, method, sources");
    taper_text_legend(&v[0], doc);
    team_text_notes(&team, doc);
    team_names_free(&team);
    if (count == 1) {
        add_shapes(&v[0], doc);
        event_days_text_notes(&v[0], doc);
    } else {
        advice_last(v, count, doc);
    }
    add_limits(&v[0], count > 1 && d->model_count > 1, doc);
    footer_evidence(doc);
    taper_warnings_searched(v[0].c, v[0].longest, doc);
    footer_basis(d, v[0].c, doc);
    document_close(doc, BLOCK_NOTES);
}

/* ---- how it was decided ---- */

/* Does training explain so little of everybody's tests that their models are no
 * guide? */
static bool all_silent(const BestTaper *v, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!best_taper_silent(&v[i]))
            return false;
    return true;
}

const char *taper_text_why(bool tested) {
    return tested ? " (training explains little of how the tests vary)" : "";
}

void taper_text_unknown(const char *who, bool tested, const char *so,
                        bool within, Document *doc) {
    document_words(
        doc, WORDS_PLAIN,
        "%s%sothing here tells more than the published evidence%s, so %s %s"
        "the gentle end of the published band (8-14 days at 41-60 %% less), "
        "not the model's choice. %s; --model NAME follows a model.",
        who ? who : "", who ? ": n" : "N", taper_text_why(tested), so,
        within ? "" : "as near as days and limits allow to ",
        tested ? "More tests may tell more" : "Tests tell athletes apart");
}

void taper_text_silence(bool usual, bool tested, const char *which,
                        Document *doc) {
    document_words(
        doc, WORDS_PLAIN,
        "%sPublished tapers brought 0.5-6 %%; how much %s will, %s, so there "
        "are no odds and no gains.",
        usual ? "Intensity and number of sessions as usual. " : "", which,
        tested ? "these tests cannot tell" : "nothing can tell here");
}

/* Where no test tells more: what is recommended is no choice of the model. */
static void add_unknown(const BestTaper *v, size_t count, Document *doc) {
    bool tested = false, within = true;
    size_t unknown = 0;
    Text who = {0};
    for (size_t i = 0; i < count; i++) {
        tested = tested || best_taper_silent(&v[i]);
        if (!best_taper_unknown(&v[i]))
            continue;
        text_add(&who, "%s%s", unknown++ ? ", " : "", v[i].c->name);
        within = within && best_taper_published(&recommended(&v[i])->option);
    }
    if (unknown)
        taper_text_unknown(unknown < count ? text_of(&who) : NULL, tested,
                           "this is", within, doc);
    text_free(&who);
}

/* ---- one athlete ---- */

/* "+2.1 %"; where the scale means nothing "46 % of the largest gain possible".
 */
static void add_gain(const BestTaper *v, double gain, Text *text) {
    char number[FIGURE_TEXT];
    if (is_scaled(v))
        text_add(text, "%s", words_gain(number, v, gain));
    else
        text_add(text, "%s of the largest gain possible",
                 words_percent(number, search_share(gain, v->possible)));
}

static void add_verdict(const BestTaper *v, Text *text) {
    double adds = v->handed.renewed - v->handed.gain;
    if (v->handed.outside) {
        text_add(text, "But ");
        handed_words_outside(v->c, text);
    } else if (best_taper_unknown(v)) {
        text_add(text, "Carry it on");
    } else if (best_taper_takes(v)) {
        record_text_takes(NULL, text);
    } else {
        text_add(text, "%s: a new plan would add ",
                 best_taper_replan(v) ? "Replanning is worth it"
                                      : "Carry it on");
        if (adds > 0)
            add_gain(v, adds, text);
        else
            text_add(text, "nothing");
    }
}

static void add_handed(const BestTaper *v, Document *doc) {
    const Handed *h = &v->handed;
    char day[DATE_TEXT];
    Text range = {0}, brings = {0}, verdict = {0};
    record_text(v, 1, doc);
    if (!h->there || h->weighed)
        return;
    words_gain_range(v, &h->spread, &range);
    if (best_taper_unknown(v)) {
        text_add(&brings, "%swhat it brings %s",
                 h->outside ? "is there; " : "stands; ",
                 best_taper_silent(v) ? "these tests cannot tell"
                                      : "nothing here can tell");
    } else {
        text_add(&brings, "gains ");
        add_gain(v, h->gain, &brings);
    }
    if (range.length && !best_taper_unknown(v))
        text_add(&brings, " (90 %% range %s)", text_of(&range));
    add_verdict(v, &verdict);
    document_words(doc, WORDS_LEAD, "%s: the plan handed out on %s %s. %s.",
                   v->c->name, date_write_short(day, h->issued),
                   text_of(&brings), text_of(&verdict));
    text_free(&verdict);
    text_free(&brings);
    text_free(&range);
}

/* ---- a squad ---- */

/* Athletes with the same taper. */
typedef struct {
    const Option *option;
    const Case *c; /* the first of them */
    size_t count;
    Text who;
} Together;

static int by_count(const void *a, const void *b) {
    const Together *one = a, *other = b;
    if (one->count != other->count)
        return one->count > other->count ? -1 : 1;
    return one->c < other->c ? -1 : one->c > other->c;
}

/* The different tapers, that of most athletes first; to be freed. */
static Together *group(const BestTaper *v, size_t count, size_t *groups) {
    Together *t = mem_new(count, sizeof *t);
    Names specs = {0};
    for (size_t i = 0; i < count; i++) {
        Text spec = {0};
        size_t at;
        option_write(&recommended(&v[i])->option, &spec);
        at = names_add(&specs, text_of(&spec), spec.length);
        if (t[at].count++ == 0) {
            t[at].option = &recommended(&v[i])->option;
            t[at].c = v[i].c;
        }
        text_add(&t[at].who, "%s%s", t[at].who.length ? ", " : "",
                 v[i].c->name);
        text_free(&spec);
    }
    *groups = specs.count;
    names_free(&specs);
    qsort(t, *groups, sizeof *t, by_count);
    return t;
}

/* Tapers of one's own beside sessions of the team, which follow another. */
static void add_own(const BestTaper *v, size_t count, Words lead,
                    Document *doc) {
    bool alone = false, mixed = false;
    for (size_t i = 0; i < count; i++) {
        mixed = mixed || !isnan(v[i].together);
        alone = alone || team_names_alone(&v[i].team);
    }
    if (mixed)
        document_words(
            doc, lead, "%s",
            alone ? "Sessions of the team follow one taper for all (below); "
                    "each athlete's own taper is for their other sessions:"
                  : "All sessions are the team's and follow one taper for all "
                    "(below). Each alone would taper like this:");
}

/* `anew`: as what would be planned in the place of a plan that stands. */
static void add_groups(const BestTaper *v, size_t count, bool anew,
                       Document *doc) {
    Words lead = anew ? WORDS_PLAIN : WORDS_LEAD;
    size_t groups;
    Together *t = group(v, count, &groups);
    if (v->c->context->question->individual)
        add_own(v, count, lead, doc);
    for (size_t i = 0; i < groups; i++) {
        Text text = {0};
        add_days(t[i].c, t[i].option, &text);
        if (groups == 1)
            document_words(doc, lead, "%sverybody: %s.",
                           anew ? "A new plan would be, for e" : "E",
                           text_of(&text));
        else if (i == 0 && 2 * t[i].count > count)
            document_words(doc, lead, "%sost of the squad (%s): %s.",
                           anew ? "A new plan would be, for m" : "M",
                           text_of(&t[i].who), text_of(&text));
        else
            document_words(doc, i ? WORDS_ITEM : lead, "%s%s: %s.",
                           anew && i == 0 ? "A new plan would be, for " : "",
                           text_of(&t[i].who), text_of(&text));
        text_free(&text);
    }
    for (size_t i = 0; i < groups; i++)
        text_free(&t[i].who);
    free(t);
}

/* "It helps in 63 to 91 of 100 likely models." */
static void add_squad_sureness(const BestTaper *v, size_t count,
                               Document *doc) {
    double low = 1, high = 0;
    size_t fewest = SIZE_MAX, most = 0;
    bool rest = false, unused = false, tested = false;
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        const Case *c = v[i].c;
        double share = v[i].spread.beats_none;
        size_t tests = v[i].c->context->models[v[i].c->model]->tests;
        fewest = tests < fewest ? tests : fewest;
        most = tests > most ? tests : most;
        rest = rest || option_cut(&recommended(&v[i])->option) == 100;
        unused = unused || unused_tests(c);
        tested = tested || c->context->season->athletes[c->athlete].test_count;
        if (!isfinite(share) || best_taper_silent(&v[i]) ||
            recommended(&v[i])->option.count == 0)
            continue;
        low = fmin(low, share);
        high = fmax(high, share);
    }
    if (low <= high)
        text_add(&text,
                 "Intensity and number of sessions as usual%s. It helps in ",
                 rest ? " but for full rest" : "");
    if (low <= high && lround(100 * low) == lround(100 * high))
        text_add(&text, "%.0f of 100 likely models. ", 100 * low);
    else if (low < high)
        text_add(&text,
                 "%.0f to %.0f of 100 likely models, depending on the "
                 "athlete. ",
                 100 * low, 100 * high);
    if (most == 0 && unused)
        text_add(&text, "Tests are not used: this rests on the model asked for "
                        "alone.");
    else if (most == 0)
        text_add(&text,
                 "There are no tests%s: this rests on the literature alone.",
                 tested ? " that can be used" : "");
    else
        text_add(&text, "Each athlete's model starts from published values "
                        "and is adjusted by their own tests");
    if (most > 0 && fewest == most)
        text_add(&text, " (%zu each).", most);
    else if (most > 0 && fewest == 0)
        text_add(&text, " (up to %zu; some have none).", most);
    else if (most > 0)
        text_add(&text, " (%zu to %zu).", fewest, most);
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

/* Of whom a gain in per cent can be told: of anybody? */
static bool any_scaled(const BestTaper *v, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (is_scaled(&v[i]))
            return true;
    return false;
}

static void squad_row(Grid *grid, const BestTaper *v, bool scaled,
                      bool silent) {
    Option own = recommended(v)->option, common = best_taper_common(v->c, &own);
    bool all = !isnan(v->together) && !team_names_alone(&v->team);
    const Option *option = all ? &common : &own; /* all is the team's */
    bool taper = option->count > 0;
    Text spec = {0};
    char day[DATE_TEXT], number[FIGURE_TEXT];
    option_write(option, &spec);
    first_day(v->c, option, day);
    grid_cell(grid, "%s", v->c->name);
    grid_cell(grid, "%s", text_of(&spec));
    grid_cell(grid, "%s", taper ? day : "-");
    grid_cell(grid, "%s", words_percent(number, v->kept));
    text_free(&spec);
    if (silent)
        return;
    taper = taper && !best_taper_silent(v); /* else nothing can be told of it */
    words_helps_cell(grid, taper ? v->spread.beats_none : NAN);
    if (scaled && taper && is_scaled(v)) {
        grid_cell(grid, "%s", words_gain(number, v, best_taper_gain(v)));
        words_gain_cell(grid, v, &v->spread);
    } else if (scaled) {
        grid_cell(grid, "-");
        grid_cell(grid, "-");
    } else {
        grid_cell(grid, "%s",
                  words_percent(number,
                                search_share(best_taper_gain(v), v->possible)));
    }
}

static void add_squad_table(const BestTaper *v, size_t count, Document *doc) {
    static const GridColumn columns[] = {
        {"athlete", false},       {"taper", false},   {"first\nday", false},
        {"training\nkept", true}, {"helps in", true}, {"gain", true},
        {"90 %\nrange", true}};
    static const GridColumn unscaled[] = {
        {"athlete", false},    {"taper", false},
        {"first\nday", false}, {"training\nkept", true},
        {"helps in", true},    {"of the largest\ngain possible", true}};
    bool scaled = any_scaled(v, count), silent = all_silent(v, count);
    Grid grid;
    grid_start(&grid, scaled ? columns : unscaled, silent ? 4 : scaled ? 7 : 6);
    for (size_t i = 0; i < count; i++)
        squad_row(&grid, &v[i], scaled, silent);
    document_table(doc, &grid, "");
}

/* Why one model for all gives one advice for all. */
static void add_alike(const BestTaper *v, size_t count, Document *doc) {
    size_t groups;
    Together *t = group(v, count, &groups);
    for (size_t i = 0; i < groups; i++)
        text_free(&t[i].who);
    free(t);
    if (groups == 1 && v->c->context->model_count == 1 &&
        best_taper_assigned(v->c) && best_taper_assigned(v->c)->known)
        document_words(
            doc, WORDS_ITEM,
            "The same for all: with one model and one usual week the log moves "
            "the curves, not this choice. Tests (tests.csv), a model of their "
            "own (athletes.csv, column model) or a week of their own "
            "(week.csv, column athlete) tell an athlete apart.");
}

/* What a squad's plans handed out are worth. */
typedef struct {
    size_t there, worth, takes; /* of them to be made anew, and to doubt */
    Date issued;
    Text who, why, doubted; /* names; why of the first */
} SquadHanded;

static void look_at_handed(const BestTaper *v, size_t count, SquadHanded *s) {
    *s = (SquadHanded){.issued = DATE_NONE};
    for (size_t i = 0; i < count; i++) {
        if (!v[i].handed.there || v[i].handed.weighed)
            continue;
        s->there++;
        s->issued = v[i].handed.issued;
        if (best_taper_replan(&v[i]))
            text_add(&s->who, "%s%s", s->worth++ ? ", " : "", v[i].c->name);
        if (best_taper_takes(&v[i]))
            text_add(&s->doubted, "%s%s", s->takes++ ? ", " : "", v[i].c->name);
        if (v[i].handed.outside && !s->why.length) {
            text_add(&s->why, " (of %s: ", v[i].c->name);
            handed_words_outside(v[i].c, &s->why);
            text_add(&s->why, ")");
        }
    }
}

/* Whose plan handed out should be made anew; true where all of it stands. */
static bool add_squad_handed(const BestTaper *v, size_t count, Document *doc) {
    SquadHanded s;
    Text doubt = {0};
    char day[DATE_TEXT];
    record_text(v, count, doc);
    look_at_handed(v, count, &s);
    if (s.there > 0)
        date_write_short(day, s.issued);
    if (s.there > 0 && s.worth == 0)
        document_words(doc, WORDS_LEAD, "The plan handed out on %s stands%s.",
                       day, s.takes == s.there ? "" : ": carry it on");
    else if (s.there > 0)
        document_words(doc, WORDS_LEAD,
                       "Of the plan handed out on %s, replanning is worth it "
                       "for %s%s; what follows is a new plan.",
                       day, text_of(&s.who), text_of(&s.why));
    record_text_takes(text_of(&s.doubted), &doubt);
    if (s.takes > 0)
        document_words(doc, WORDS_LEAD, "%s.", text_of(&doubt));
    text_free(&s.who);
    text_free(&s.why);
    text_free(&s.doubted);
    text_free(&doubt);
    return s.there == count && s.worth == 0;
}

void taper_text_squad(const BestTaper *v, size_t count, Document *doc) {
    bool stands = add_squad_handed(v, count, doc);
    add_groups(v, count, stands, doc);
    if (all_silent(v, count))
        taper_text_silence(true, true, "this one", doc);
    else
        add_squad_sureness(v, count, doc);
    add_unknown(v, count, doc);
    add_squad_table(v, count, doc);
    add_alike(v, count, doc);
    team_text_taper(v, count, doc);
    add_costs(&v[0], v->c->context->model_count > 1, doc);
}

/* ---- one athlete's answer ---- */

/* Where the model is no guide, no more than of a squad is told. */
static void add_silent_one(const BestTaper *v, Document *doc) {
    taper_text_silence(false, true, "this one", doc);
    add_unknown(v, 1, doc);
    add_squad_table(v, 1, doc);
    team_text_taper(v, 1, doc);
    add_costs(v, false, doc);
}

static void add_told_one(const BestTaper *v, Document *doc) {
    Text text = {0};
    add_sureness(v, &text);
    add_tests(v->c, &text);
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
    add_unknown(v, 1, doc);
    taper_text_options(v, doc);
    event_days_text_add(v, doc);
    add_deviations(v, doc);
    team_text_taper(v, 1, doc);
    advice_last(v, 1, doc);
    add_costs(v, false, doc);
}

void taper_text_one(const BestTaper *v, Document *doc) {
    Text text = {0};
    add_handed(v, doc);
    taper_text_carried(v, &text);
    if (v->handed.there && !best_taper_replan(v))
        document_words(doc, WORDS_PLAIN, "A new plan would be: %s",
                       text_of(&text));
    else
        document_words(doc, WORDS_LEAD, "%s: %s", v->c->name, text_of(&text));
    text_free(&text);
    if (best_taper_silent(v))
        add_silent_one(v, doc);
    else
        add_told_one(v, doc);
}

/* ---- the answer ---- */

static void add_title(const BestTaper *v, Document *doc) {
    Text text = {0};
    char day[DATE_TEXT];
    Aim aim = v->c->context->question->aim;
    words_event(v->c, &text);
    if (v->c->event->days > 1)
        text_add(&text, "; readiness %s counts",
                 aim == AIM_MEAN     ? "as the mean of its days"
                 : aim == AIM_LOWEST ? "on its worst day"
                 : aim == AIM_FIRST  ? "on its first day"
                                     : "on its last day");
    document_title(doc, "Taper for %s. Today is %s.", text_of(&text),
                   date_write_short(day, v->c->context->season->today));
    text_free(&text);
}

void taper_text(const Context *d, const BestTaper *v, size_t count,
                Document *doc) {
    const BestTaper **each = mem_new(count, sizeof *each);
    for (size_t i = 0; i < count; i++)
        each[i] = &v[i];
    add_title(v, doc);
    if (count == 1)
        taper_text_one(v, doc);
    else
        taper_text_squad(v, count, doc);
    taper_warnings(each, count, doc);
    if (count > 1)
        document_words(doc, WORDS_ITEM,
                       "One athlete's options and reasons: --athlete ID.");
    footer_caution(d, doc);
    add_notes(d, v, count, doc);
    free(each);
}
