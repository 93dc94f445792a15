/* fit_text: see fit_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/fit_text.h"

#include "answers/fit_start.h"
#include "answers/squad_rows.h"
#include "base/mem.h"
#include "output/footer.h"
#include "response/landmarks.h"
#include "taper/search.h"

#include <math.h>
#include <stdlib.h>

static void number_cell(Grid *grid, double value) {
    if (isfinite(value))
        grid_cell(grid, "%.3g", value);
    else
        grid_cell(grid, "-");
}

static void table_row(Grid *grid, const AthleteFit *f, const char *what,
                      double best, double se, const double at[3]) {
    grid_cell(grid, "%s", what);
    number_cell(grid, f->best.exists ? best : NAN);
    number_cell(grid, f->best.exists ? se : NAN);
    number_cell(grid, at[MIDDLE]);
    if (isfinite(at[LOW]))
        grid_cell(grid, "%.3g to %.3g", at[LOW], at[HIGH]);
    else
        grid_cell(grid, "-");
}

static void add_table(const AthleteFit *f, Document *doc) {
    static const GridColumn columns[] = {{"", false},
                                         {"best\nfit", true},
                                         {"standard\nerror", true},
                                         {"likely", true},
                                         {"90 % range", true}};
    static const char *const names[PARAMS] = {
        "p0, level", "k1, gain of fitness", "k2, gain of fatigue", "tau1, d",
        "tau2, d",   "tau_rise, d",         "k3, gain of fatigue", "tau3, d"};
    Grid grid;
    double at[3];
    Landmarks marks = landmarks_of(&f->best.params);
    grid_start(&grid, columns, 5);
    for (int i = 0; i < PARAMS; i++) {
        if (!response_has(f->prior.params.kind, (Param)i))
            continue;
        athlete_fit_param(f, (Param)i, at);
        table_row(&grid, f, names[i], athlete_fit_estimate(f, (Param)i, at),
                  f->best.se[i], at);
    }
    athlete_fit_points(f, athlete_fit_t_n, PARAMS, at);
    table_row(&grid, f, "t_n, d", marks.t_n, NAN, at);
    athlete_fit_points(f, athlete_fit_t_g, PARAMS, at);
    table_row(&grid, f, "t_g, d", marks.t_g, NAN, at);
    athlete_fit_sigma(f, at);
    table_row(&grid, f, "residual SD", f->best.sigma, NAN, at);
    document_table(doc, &grid, "");
}

/* Which estimates lie on a bound. */
static void add_bounds(const AthleteFit *f, Text *text) {
    Text list = {0};
    for (int i = 0; i < PARAMS; i++)
        if (f->best.on_bound[i])
            text_add(&list, "%s%s", list.length ? ", " : "", param_names[i]);
    if (list.length)
        text_add(text,
                 "The best fit lies on a bound (%s), so its standard "
                 "errors say too little. ",
                 text_of(&list));
    else if (f->best.condition > 1000)
        text_add(text,
                 "Some estimates trade off against each other "
                 "(condition %.0f): read the intervals, not the best "
                 "fit. ",
                 f->best.condition);
    text_free(&list);
}

/* Estimates that cannot be told apart: what one gives the other takes. */
static void add_correlations(const AthleteFit *f, Text *text) {
    Text list = {0};
    for (int a = 0; a < PARAMS; a++)
        for (int b = a + 1; b < PARAMS; b++) {
            double r = fit_correlation(&f->best, (Param)a, (Param)b);
            if (isfinite(r) && fabs(r) > .95)
                text_add(&list, "%s%s and %s %.3f", list.length ? ", " : "",
                         param_names[a], param_names[b], r);
        }
    if (list.length)
        text_add(text,
                 "Estimates of the best fit that go together "
                 "(correlation): %s. ",
                 text_of(&list));
    text_free(&list);
}

/* The posterior is hardly narrower than the prior. */
static void add_undetermined(const AthleteFit *f, Text *text) {
    static const Param taus[] = {PARAM_TAU1, PARAM_TAU2};
    for (int i = 0; i < 2; i++) {
        double at[3], prior = f->prior.spread[taus[i]];
        if (!response_has(f->prior.params.kind, taus[i]) || !(prior > 0))
            continue;
        athlete_fit_param(f, taus[i], at);
        if (log(at[HIGH] / at[LOW]) > .8 * 2 * 1.645 * prior)
            text_add(text,
                     "%s is not determined by the tests (%.0f to %.0f "
                     "d). ",
                     param_names[taus[i]], at[LOW], at[HIGH]);
    }
}

/* Share of the likely models under which no taper helps. */
static void add_no_taper(const AthleteFit *f, Text *text) {
    size_t n = f->posterior.draws.count, without = 0;
    if (!response_linear(f->prior.params.kind) ||
        !response_has(f->prior.params.kind, PARAM_TAU2))
        return;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(athlete_fit_t_n(&f->posterior.draws.set[i], PARAMS)))
            without++;
    if (without * 50 > n)
        text_add(text,
                 "In %.0f %% of the likely models fatigue's gain is not above "
                 "fitness's: there is no t_n, and no taper helps. ",
                 100.0 * (double)without / (double)n);
}

static void add_effects(const AthleteFit *f, Text *text) {
    size_t n = f->own.data.count;
    char p_training[40] = "";
    if (isfinite(f->p_training))
        snprintf(p_training, sizeof p_training,
                 f->p_training < .01 ? " (p = %.2g)" : " (p = %.2f)",
                 f->p_training);
    if (!f->best.exists)
        text_add(text,
                 "%zu test%s cannot tell %zu parameters apart, so there is no "
                 "least-squares answer: what is likely rests on the "
                 "literature and on these tests. ",
                 n, n == 1 ? "" : "s", f->best.free);
    else if (isnan(f->best.r2))
        text_add(text,
                 "These %zu tests all read the same, so they show no effect of "
                 "training: the plan rests on the literature. ",
                 n);
    else if (!(f->p_training <= .05))
        text_add(text,
                 "By least squares alone, without what the literature and the "
                 "squad tell, these %zu tests do not tell training's effect "
                 "from chance%s. ",
                 n, p_training);
    else if (isnan(f->p_fatigue))
        text_add(text,
                 "By least squares alone these %zu tests show that training "
                 "moves them%s. ",
                 n, p_training);
    else if (f->p_fatigue > .05)
        text_add(text,
                 "By least squares alone these %zu tests show that training "
                 "moves them%s, but not a fatigue effect (p = %.2f). ",
                 n, p_training, f->p_fatigue);
    else
        text_add(text,
                 "By least squares alone these %zu tests show that training "
                 "moves them%s, and a fatigue effect (p = %.2g). ",
                 n, p_training, f->p_fatigue);
}

/* What AICc adds where it disagrees with the F test against a constant. */
static const char *aicc_against_f(const AthleteFit *f, bool constant) {
    if (constant && f->p_training <= .05)
        return "With so few tests that asks for more than chance does: what "
               "they show of training is not firm. ";
    if (!constant && f->p_training > .05)
        return "Its lead over a constant is not beyond chance. ";
    return "";
}

/* AICc: the smallest fits best for its size. */
static void add_aicc(const AthleteFit *f, Text *text) {
    const char *kind = response_kind_names[f->prior.params.kind];
    double own = f->best.aicc, one = f->one.aicc, none = f->constant.aicc;
    const char *least = "a constant";
    if (!isfinite(own) || !isfinite(one) || !isfinite(none))
        return;
    if (f->prior.params.kind == RESPONSE_ONE_COMPONENT) {
        text_add(text,
                 "For its size %s fits best (AICc: one-component %.1f, a "
                 "constant %.1f). ",
                 own < none ? kind : least, own, none);
        text_add(text, "%s", aicc_against_f(f, own >= none));
        return;
    }
    if (own < one && own < none)
        least = kind;
    else if (one < none)
        least = "one-component";
    text_add(text,
             "For its size %s fits best (AICc: %s %.1f, one-component %.1f, a "
             "constant %.1f). ",
             least, kind, own, one, none);
    text_add(text, "%s", aicc_against_f(f, none <= own && none <= one));
}

/* Better than all, worse than one, or a tie, by more than the noise of the
 * pairs. */
static void add_contest(const Forecast *k, Text *text) {
    static const char *const names[RIVALS] = {"the last test carried forward",
                                              "the mean of the earlier tests",
                                              "the mean of the last five"};
    size_t beaten = 0;
    for (int r = 0; r < RIVALS; r++) {
        beaten += k->rival[r].better > 0;
        if (k->rival[r].better >= 0)
            continue;
        text_add(text,
                 "The model predicts later tests worse than %s does: do not "
                 "rely on it.",
                 names[r]);
        return;
    }
    if (beaten == RIVALS)
        text_add(text, "The model predicts later tests better than the last "
                       "test, the mean of the earlier ones or of the last "
                       "five does.");
    else if (beaten == 0)
        text_add(text, "It is a tie whether the model predicts later tests "
                       "better than the earlier ones' mean does.");
    for (int r = 0, said = 0; r < RIVALS && beaten > 0 && beaten < RIVALS; r++)
        if (k->rival[r].better > 0)
            text_add(text, "%s%s",
                     said++ ? " and "
                            : "The model predicts "
                              "later tests better than ",
                     names[r]);
    if (beaten > 0 && beaten < RIVALS)
        text_add(text, "; with the rest it ties.");
}

static void add_skill(const AthleteFit *f, Text *text) {
    if (f->forecast.count < 3)
        text_add(text, "Too few tests to say whether the model predicts. ");
    else
        add_contest(&f->forecast, text);
}

static void add_errors(const AthleteFit *f, Text *text) {
    const Forecast *k = &f->forecast;
    if (k->count >= 3)
        text_add(text,
                 "Each test predicted from the earlier ones: error %.3g; the "
                 "last test carried forward %.3g; the mean of the earlier ones "
                 "%.3g, of the last five %.3g.",
                 k->error, k->rival[RIVAL_LAST].error,
                 k->rival[RIVAL_MEAN].error, k->rival[RIVAL_RECENT].error);
}

#define HARDLY .05 /* of the tests' scatter */

static void add_next(const AthleteFit *f, Text *text) {
    char from[DATE_TEXT], to[DATE_TEXT];
    double sigma[3]; /* the middle one counts */
    if (!f->c->context->question->next_test || !f->c->event)
        return;
    if (f->next == DATE_NONE) {
        text_add(text, " No day is left for a test before a taper of two weeks "
                       "would begin.");
        return;
    }
    date_write_short(from, f->next);
    date_write_short(to, f->next_last);
    athlete_fit_sigma(f, sigma);
    text_add(text, " The next test is worth most on %s%s%s%s",
             f->next == f->next_last ? "" : "any day from ", from,
             f->next == f->next_last ? "" : " to ",
             f->next == f->next_last ? "" : to);
    text_add(text,
             ": it should add %.2g (%s) to the gain of the taper then "
             "chosen%s.",
             f->next_worth,
             case_model(f->c)->scaled ? case_model(f->c)->unit
                                      : "in the model's own scale",
             f->next_worth < HARDLY * sigma[1] ? ", which is next to nothing"
                                               : "");
}

/* How likely the tests are where training moves them over where it does not:
 * bounds of Kass, Raftery 1995, J Am Stat Assoc 90:773-795, in round numbers
 * (from memory). */
static double bayes_of(const AthleteFit *f) {
    return exp(f->graded ? f->family.bayes : f->posterior.bayes);
}

static void add_evidence(const AthleteFit *f, Text *text) {
    double bayes = bayes_of(f);
    double share = (f->graded ? &f->family : &f->posterior)->explained;
    const char *what = bayes >= 20  ? "show clearly that training moves them"
                       : bayes >= 3 ? "speak for training moving them"
                       : bayes > 1. / 3
                           ? "cannot tell whether training moves them"
                           : "speak against training moving them";
    char figure[40];
    snprintf(figure, sizeof figure,
             bayes >= 1000 ? "over 1000"
             : bayes >= 20 ? "%.0f"
                           : "%.2g",
             bayes);
    if (f->others)
        text_add(text, "With %zu test%s of %s they %s (Bayes factor %s)",
                 f->others, f->others == 1 ? "" : "s",
                 f->kinds == 1 ? "another kind" : "other kinds", what, figure);
    else
        text_add(text, "%s %s (Bayes factor %s)",
                 f->own.data.count == 1 ? "It" : "They", what, figure);
    if (bayes >= 3 && share < SQUAD_ROWS_HARDLY)
        text_add(text,
                 ", but hardly: it explains %.0f %% of how they vary, so the "
                 "plan rests on the published evidence",
                 100 * share);
    else if (bayes < 3 && !(f->narrowed < .5))
        text_add(text, ": the plan rests mostly on the literature%s",
                 f->graded ? " and the squad" : "");
    text_add(text, ". ");
}

/* A gain of a taper is known so much better than from the literature. */
static void add_narrowed(const AthleteFit *f, Text *text) {
    if (!isfinite(f->narrowed))
        return;
    if (f->narrowed > .9)
        text_add(text,
                 "The gain of a taper is as uncertain as from the literature "
                 "alone. ");
    else
        text_add(text,
                 "The range of a taper's gain is narrowed to %.0f %% of what "
                 "the literature alone would say. ",
                 100 * f->narrowed);
}

/* t_n of the likely models. */
static void add_last_days(const AthleteFit *f, Text *text) {
    double at[3];
    athlete_fit_points(f, athlete_fit_t_n, PARAMS, at);
    if (isfinite(at[HIGH]) && at[MIDDLE] >= .5)
        text_add(text,
                 "Training in the last %.0f days (90 %% range %.0f to %.0f) "
                 "lowers readiness. ",
                 at[MIDDLE], at[LOW], at[HIGH]);
}

/* Which members of the family the squad's tests favour. */
static void add_growth(const AthleteFit *f, Text *text) {
    double grows = 0;
    for (size_t k = 0; k < f->family.members; k++)
        if (f->family.growth[k] >= .5)
            grows += f->family.weight[k];
    if (!f->graded || f->family.members < 2)
        return;
    if (grows > .7)
        text_add(text,
                 "Fatigue seems to grow with recent load (%.0f %%): deep cuts "
                 "overshoot. ",
                 100 * grows);
    else if (grows < .3)
        text_add(text,
                 "Fatigue seems to add up rather than to grow with recent "
                 "load. ");
}

static void add_words(const AthleteFit *f, Document *doc) {
    Text text = {0};
    const TestData *d = &f->own.data;
    char from[DATE_TEXT], until[DATE_TEXT];
    text_add(
        &text, "%s: %zu test%s of %s%s, %s%s%s. ", f->c->name, d->count,
        d->count == 1 ? "" : "s", f->test,
        f->own.lower ? " (lower is better)" : "",
        date_write_short(from, f->own.date[0]), d->count == 1 ? "" : " to ",
        d->count == 1 ? ""
                      : date_write_short(until, f->own.date[d->count - 1]));
    add_evidence(f, &text);
    add_narrowed(f, &text);
    add_last_days(f, &text);
    if (f->posterior.ess < POSTERIOR_LEAST)
        text_add(&text,
                 "Only %.0f of the draws %s effective, under %d: neither the "
                 "intervals nor what is likely can be relied on; look for a "
                 "slip among the tests.",
                 f->posterior.ess, f->posterior.ess < 1.5 ? "is" : "are",
                 POSTERIOR_LEAST);
    else
        add_skill(f, &text);
    add_next(f, &text);
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

/* What the rows of statistics say, for those who ask. */
static void add_statistics(const AthleteFit *f, Document *doc) {
    Text text = {0};
    add_growth(f, &text);
    add_effects(f, &text);
    if (f->best.exists && isfinite(f->best.r2))
        text_add(&text, "R2 of the best fit is %.2f. ", f->best.r2);
    add_undetermined(f, &text);
    add_no_taper(f, &text);
    if (f->best.exists)
        add_bounds(f, &text);
    if (f->best.exists)
        add_correlations(f, &text);
    add_aicc(f, &text);
    add_errors(f, &text);
    document_words(doc, WORDS_PLAIN, "%s", text_of(&text));
    text_free(&text);
}

/* --before fit: what difference the starting state makes to the answer. */
static void add_starts(const AthleteFit *f, Document *doc) {
    const struct {
        const char *name;
        double before; /* [load/d] */
    } starts[] = {{"steady", daily_first_mean(&f->c->daily)},
                  {"nothing", 0},
                  {"fitted", f->c->before}};
    Text list = {0};
    Option option;
    if (f->c->context->question->before != BEFORE_FIT || !f->c->event ||
        f->c->outlook.window == 0)
        return;
    for (int i = 0; i < 3; i++) {
        if (!fit_start_recommended(f, starts[i].before, &option))
            continue;
        text_add(&list, "%s%s %.3g a day: ", list.length ? "; " : "",
                 starts[i].name, starts[i].before);
        option_write(&option, &list);
    }
    document_words(doc, WORDS_PLAIN,
                   "Recommended by the training before the log: %s.",
                   text_of(&list));
    text_free(&list);
}

void fit_text_print(const AthleteFit *f, bool notes, FILE *to) {
    Document doc = {0};
    add_words(f, &doc);
    if (notes) {
        add_table(f, &doc);
        add_statistics(f, &doc);
        add_starts(f, &doc);
    }
    document_print(&doc, notes, to);
    fputc('\n', to);
    document_free(&doc);
}

void fit_text_add(const AthleteFit *f, FitLines *lines) {
    FitLine *line;
    double at[3];
    lines->item = mem_grow(lines->item, &lines->room, lines->count + 1,
                           sizeof *lines->item);
    line = &lines->item[lines->count++];
    athlete_fit_points(f, athlete_fit_t_n, PARAMS, at);
    *line = (FitLine){.name = mem_copy(f->c->name),
                      .tests = f->own.data.count + f->others,
                      .bayes = bayes_of(f),
                      .narrowed = f->narrowed,
                      .t_n = {at[LOW], at[MIDDLE], at[HIGH]}};
}

static void count_words(const FitLines *lines, Document *doc) {
    size_t moved = 0, against = 0, unsure;
    Text who = {0}, text = {0};
    for (size_t i = 0; i < lines->count; i++) {
        const FitLine *line = &lines->item[i];
        moved += line->bayes >= 3;
        if (line->bayes < 1. / 3)
            text_add(&who, "%s%s", against++ ? ", " : "", line->name);
    }
    unsure = lines->count - moved - against;
    if (lines->count == 1)
        text_add(&text, "The tests of %s %s.", lines->item[0].name,
                 moved     ? "speak for training moving them"
                 : against ? "speak against training moving them"
                           : "cannot tell whether training moves them");
    else if (moved > 0)
        text_add(&text,
                 "Of %zu athletes the tests of %zu speak for training moving "
                 "them",
                 lines->count, moved);
    else
        text_add(&text,
                 "Of %zu athletes nobody's tests speak for training moving "
                 "them",
                 lines->count);
    if (lines->count > 1 && against > 0)
        text_add(&text, "; those of %zu speak against it (%s)", against,
                 text_of(&who));
    if (lines->count > 1)
        text_add(&text, unsure ? "; those of %zu cannot tell." : ".", unsure);
    if (moved < lines->count)
        text_add(&text, " Without tests that speak for it a taper rests mostly "
                        "on the literature and the squad.");
    document_words(doc, WORDS_LEAD, "%s", text_of(&text));
    text_free(&text);
    text_free(&who);
}

void fit_text_squad(const FitLines *lines, const Output *o) {
    static const GridColumn columns[] = {{"athlete", false},
                                         {"tests", true},
                                         {"Bayes\nfactor", true},
                                         {"gain's range\nnarrowed to", true},
                                         {"last days\nthat tire", true},
                                         {"90 %\nrange", true}};
    Document doc = {0};
    Grid grid;
    count_words(lines, &doc);
    grid_start(&grid, columns, 6);
    for (size_t i = 0; i < lines->count; i++) {
        const FitLine *l = &lines->item[i];
        grid_cell(&grid, "%s", l->name);
        grid_cell(&grid, "%zu", l->tests);
        grid_cell(&grid,
                  l->bayes >= 1000 ? "> 1000"
                  : l->bayes >= 10 ? "%.0f"
                                   : "%.2g",
                  l->bayes);
        if (isfinite(l->narrowed))
            grid_cell(&grid, "%.0f %%", 100 * l->narrowed);
        else
            grid_cell(&grid, "-");
        if (isfinite(l->t_n[MIDDLE])) {
            grid_cell(&grid, "%.0f", l->t_n[MIDDLE]);
            grid_cell(&grid, "%.0f to %.0f", l->t_n[LOW], l->t_n[HIGH]);
        } else {
            grid_cell(&grid, "-");
            grid_cell(&grid, "-");
        }
    }
    document_table(&doc, &grid, "");
    document_words(&doc, WORDS_ITEM,
                   "Bayes factor: how much likelier the tests are if training "
                   "moves them than if it does not; 3 and more speak for it, "
                   "below 1/3 against.");
    document_words(&doc, WORDS_ITEM,
                   "Narrowed to: width of the range of a taper's gain over "
                   "that from the literature alone.");
    document_words(&doc, WORDS_ITEM,
                   "One athlete's tests in words: --athlete ID.");
    output_part(o, &doc);
}

void fit_text_lines_free(FitLines *lines) {
    for (size_t i = 0; i < lines->count; i++)
        free(lines->item[i].name);
    free(lines->item);
}

void fit_text_foot(const Case *first, const Output *o) {
    Document doc = {0};
    if (o->notes)
        document_words(&doc, WORDS_SMALL,
                       "Tables are of the two-component model, or of the kind "
                       "named. 'best fit': least squares, with standard "
                       "errors. 'likely': median of what the tests and the "
                       "literature's prior say together, with its 90 %% range. "
                       "k and p0 in units of the test; tests of which lower is "
                       "better are negated for the gains.");
    footer(first, 0, &doc);
    output_document(o, &doc);
}
