/* fit: an athlete's own model from performance tests, with its uncertainty and
 * whether it predicts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "base/home.h"
#include "base/mem.h"
#include "base/outfile.h"
#include "base/spool.h"
#include "calibrate/fit.h"
#include "calibrate/forecast.h"
#include "calibrate/next.h"
#include "commands/curves.h"
#include "commands/own.h"
#include "commands/verdict.h"
#include "present/fit_pictures.h"
#include "present/grid.h"
#include "present/progress.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Everything `fit` finds out about one athlete. */
typedef struct {
    const Case *c;
    OwnTests own;
    const char *test; /* its name */
    Model prior;      /* borrowed strings */
    PosteriorPrior scale;
    Fit best, one, constant; /* the kind asked for, one component, a mean */
    Posterior posterior;
    Forecast forecast;
    /* F tests of the kind asked for, against one component and against a
     * constant; NAN: cannot be told */
    double p_fatigue, p_training;
    Date next;         /* best day for the next test; DATE_NONE: not asked */
    double next_share; /* width of the gain's interval after it / now */
} Fitted;

enum { LOW, MIDDLE, HIGH };

/* A number that each draw tells. */
typedef double (*Quantity)(const ResponseParams *, Param);

/* 5 %, 50 % and 95 % points of a quantity. */
static void points(const Fitted *f, Quantity of, Param param, double at[3]) {
    size_t n = f->posterior.draws.count, count = 0;
    double *values = mem_new(n, sizeof *values);
    for (size_t i = 0; i < n; i++) {
        double value = of(&f->posterior.draws.set[i], param);
        if (isfinite(value))
            values[count++] = value;
    }
    at[LOW] = draws_quantile(values, count, .05);
    at[MIDDLE] = draws_quantile(values, count, .5);
    at[HIGH] = draws_quantile(values, count, .95);
    free(values);
}

static double value_of(const ResponseParams *p, Param param) {
    return p->value[param];
}

static double t_n_of(const ResponseParams *p, Param param) {
    (void)param;
    return landmarks_of(p).t_n;
}

static double t_g_of(const ResponseParams *p, Param param) {
    (void)param;
    return landmarks_of(p).t_g;
}

static void param_points(const Fitted *f, Param param, double at[3]) {
    points(f, value_of, param, at);
    if (param == PARAM_P0 && f->own.lower) {
        double low = -at[HIGH];
        at[HIGH] = -at[LOW];
        at[MIDDLE] = -at[MIDDLE];
        at[LOW] = low;
    }
}

static void sigma_points(const Fitted *f, double at[3]) {
    size_t n = f->posterior.draws.count;
    double *values = mem_new(n, sizeof *values);
    if (f->posterior.sigma)
        memcpy(values, f->posterior.sigma, n * sizeof *values);
    at[LOW] = draws_quantile(values, n, .05);
    at[MIDDLE] = draws_quantile(values, n, .5);
    at[HIGH] = draws_quantile(values, n, .95);
    free(values);
}

/* ---- computing ---- */

/* Gain of two weeks at half volume under each draw, at the next event. */
static double *gains(const Fitted *f) {
    const Draws *draws = &f->posterior.draws;
    double *gain = mem_new(draws->count, sizeof *gain);
    Option option = {.count = 1, .part = {{14, 50, 50, 'x'}}};
    for (size_t i = 0; i < draws->count; i++) {
        Score score;
        score_build(&f->c->outlook, &draws->set[i], f->c->desk->question->aim,
                    &score);
        gain[i] = score_option(&score, &option) - score_aim(&score, score.base);
        score_free(&score);
    }
    return gain;
}

enum { NEXT_DAYS = 21 }; /* [d] in which the next test may lie */

static void find_next(Fitted *f) {
    const Outlook *o = &f->c->outlook;
    double *reading, *gain;
    f->next = DATE_NONE;
    if (!f->c->desk->question->next_test || !f->c->event || o->window == 0)
        return;
    gain = gains(f);
    reading = mem_new(f->posterior.draws.count, sizeof *reading);
    f->next_share = INFINITY;
    for (size_t day = o->log_days;
         day < o->log_days + NEXT_DAYS && day < o->event_day; day++) {
        double share;
        forecast_at(&f->posterior.draws, &o->timeline, o->read_step[day],
                    READ_BEFORE, reading);
        share = next_narrowing(&f->posterior, reading, gain);
        if (share < f->next_share) {
            f->next_share = share;
            f->next = o->first + (Date)day;
        }
    }
    free(reading);
    free(gain);
}

static StatusCode compute(const Case *c, const Model *model, Fitted *f,
                          Status *status) {
    const Question *q = c->desk->question;
    StatusCode code;
    Trail *trail = NULL;
    f->c = c;
    f->test = c->desk->season->test_names.items[f->own.test];
    own_prior(model, &f->prior);
    f->scale = posterior_prior(&f->own.data);
    f->own.data.fitted = q->before == BEFORE_FIT;
    fit_best(model->params.kind, &f->own.data, &f->best);
    fit_best(RESPONSE_ONE_COMPONENT, &f->own.data, &f->one);
    fit_constant(&f->own.data, &f->constant);
    f->p_fatigue = model->params.kind == RESPONSE_ONE_COMPONENT
                       ? NAN
                       : fit_f_test(&f->one, &f->best);
    f->p_training = fit_f_test(&f->constant, &f->best);
    code = posterior_run_kept(&f->prior, &f->own.data, &f->scale, DRAWS_DEFAULT,
                              q->seed, &f->posterior, &trail, status);
    if (code == STATUS_OK)
        forecast_run(&f->own.data, q->seed, trail, &f->forecast);
    trail_free(trail);
    if (code == STATUS_OK)
        find_next(f);
    return code;
}

static void fitted_free(Fitted *f) {
    own_free(&f->own);
    posterior_free(&f->posterior);
    forecast_free(&f->forecast);
}

/* ---- CSV ---- */

/* A row about a model named otherwise than the one fitted. */
static void csv_model_row(const Fitted *f, const char *model,
                          const char *quantity, double estimate,
                          const double at[3], const char *unit, FILE *to) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, f->c->name);
    csv_text(&csv, f->test);
    csv_text(&csv, model);
    csv_text(&csv, quantity);
    csv_number(&csv, estimate);
    csv_number(&csv, at ? at[LOW] : NAN);
    csv_number(&csv, at ? at[HIGH] : NAN);
    csv_text(&csv, unit);
    csv_end(&csv);
}

static void csv_row(const Fitted *f, const char *quantity, double estimate,
                    const double at[3], const char *unit, FILE *to) {
    csv_model_row(f, response_kind_names[f->prior.params.kind], quantity,
                  estimate, at, unit, to);
}

/* Condition of the best fit, and its correlations. */
static void csv_correlations(const Fitted *f, FILE *to) {
    if (!f->best.exists)
        return;
    csv_row(f, "condition", f->best.condition, NULL, "", to);
    for (int a = 0; a < PARAMS; a++)
        for (int b = a + 1; b < PARAMS; b++) {
            double r = fit_correlation(&f->best, (Param)a, (Param)b);
            Text name = {0};
            text_add(&name, "correlation %s %s", param_names[a],
                     param_names[b]);
            if (isfinite(r))
                csv_row(f, text_of(&name), r, NULL, "", to);
            text_free(&name);
        }
}

/* The smaller models beside the one fitted. */
static void csv_smaller(const Fitted *f, FILE *to) {
    const char *one = response_kind_names[RESPONSE_ONE_COMPONENT];
    if (f->prior.params.kind != RESPONSE_ONE_COMPONENT) {
        csv_model_row(f, one, "rss", f->one.rss, NULL, "unit of the test^2",
                      to);
        csv_model_row(f, one, "aicc", f->one.aicc, NULL, "", to);
    }
    csv_model_row(f, "constant", "rss", f->constant.rss, NULL,
                  "unit of the test^2", to);
    csv_model_row(f, "constant", "aicc", f->constant.aicc, NULL, "", to);
}

/* Least squares where it exists, else the posterior's median. */
static double estimate_of(const Fitted *f, Param param, const double at[3]) {
    double value = f->best.params.value[param];
    if (!f->best.exists)
        return at[MIDDLE];
    return param == PARAM_P0 && f->own.lower ? -value : value;
}

static const char *unit_of(Param param) {
    static const char *const units[PARAMS] = {"unit of the test",
                                              "unit of the test/load",
                                              "unit of the test/load",
                                              "d",
                                              "d",
                                              "d",
                                              "unit of the test/load^2",
                                              "d"};
    return units[param];
}

static void print_csv(const Fitted *f, FILE *to) {
    double at[3], t_n, t_g;
    const Fit *best = &f->best;
    Landmarks marks = landmarks_of(&best->params);
    for (int i = 0; i < PARAMS; i++) {
        if (!response_has(f->prior.params.kind, (Param)i))
            continue;
        param_points(f, (Param)i, at);
        csv_row(f, param_names[i], estimate_of(f, (Param)i, at), at,
                unit_of((Param)i), to);
    }
    sigma_points(f, at);
    csv_row(f, "sigma", best->exists ? best->sigma : at[MIDDLE], at,
            "unit of the test", to);
    csv_row(f, "rss", best->rss, NULL, "unit of the test^2", to);
    csv_row(f, "r2", best->exists ? best->r2 : NAN, NULL, "", to);
    csv_row(f, "aicc", best->aicc, NULL, "", to);
    csv_row(f, "tests", (double)f->own.data.count, NULL, "", to);
    points(f, t_n_of, PARAMS, at);
    t_n = best->exists ? marks.t_n : at[MIDDLE];
    csv_row(f, "t_n", t_n, at, "d", to);
    points(f, t_g_of, PARAMS, at);
    t_g = best->exists ? marks.t_g : at[MIDDLE];
    csv_row(f, "t_g", t_g, at, "d", to);
    csv_row(f, "skill", f->forecast.skill, NULL, "", to);
    csv_row(f, "ess", f->posterior.ess, NULL, "", to);
    csv_row(f, "p_fatigue", f->p_fatigue, NULL, "", to);
    csv_row(f, "p_training", f->p_training, NULL, "", to);
    csv_correlations(f, to);
    csv_smaller(f, to);
}

/* ---- text ---- */

static void number_cell(Grid *grid, double value) {
    if (isfinite(value))
        grid_cell(grid, "%.3g", value);
    else
        grid_cell(grid, "-");
}

static void table_row(Grid *grid, const Fitted *f, const char *what,
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

static void print_table(const Fitted *f, FILE *to) {
    static const GridColumn columns[] = {{"", false},
                                         {"best\nfit", true},
                                         {"standard\nerror", true},
                                         {"likely", true},
                                         {"5 to 95 %", true}};
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
        param_points(f, (Param)i, at);
        table_row(&grid, f, names[i], estimate_of(f, (Param)i, at),
                  f->best.se[i], at);
    }
    points(f, t_n_of, PARAMS, at);
    table_row(&grid, f, "t_n, d", marks.t_n, NAN, at);
    points(f, t_g_of, PARAMS, at);
    table_row(&grid, f, "t_g, d", marks.t_g, NAN, at);
    sigma_points(f, at);
    table_row(&grid, f, "residual SD", f->best.sigma, NAN, at);
    grid_print(&grid, to, 30);
    grid_free(&grid);
}

/* Which estimates lie on a bound. */
static void add_bounds(const Fitted *f, Text *text) {
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
static void add_correlations(const Fitted *f, Text *text) {
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
static void add_undetermined(const Fitted *f, Text *text) {
    static const Param taus[] = {PARAM_TAU1, PARAM_TAU2};
    for (int i = 0; i < 2; i++) {
        double at[3], prior = f->prior.spread[taus[i]];
        if (!response_has(f->prior.params.kind, taus[i]) || !(prior > 0))
            continue;
        param_points(f, taus[i], at);
        if (log(at[HIGH] / at[LOW]) > .8 * 2 * 1.645 * prior)
            text_add(text,
                     "%s is not determined by the tests (%.0f to %.0f "
                     "d). ",
                     param_names[taus[i]], at[LOW], at[HIGH]);
    }
}

/* Share of the likely models under which no taper helps. */
static void add_no_taper(const Fitted *f, Text *text) {
    size_t n = f->posterior.draws.count, without = 0;
    if (!response_linear(f->prior.params.kind) ||
        !response_has(f->prior.params.kind, PARAM_TAU2))
        return;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(t_n_of(&f->posterior.draws.set[i], PARAMS)))
            without++;
    if (without * 50 > n)
        text_add(text,
                 "In %.0f %% of the likely models fatigue's gain is not above "
                 "fitness's: there is no t_n, and no taper helps. ",
                 100.0 * (double)without / (double)n);
}

static void add_effects(const Fitted *f, Text *text) {
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
                 "These %zu tests do not show that training moves them%s: the "
                 "plan rests on the literature. ",
                 n, p_training);
    else if (isnan(f->p_fatigue))
        text_add(text, "These %zu tests show that training moves them%s. ", n,
                 p_training);
    else if (f->p_fatigue > .05)
        text_add(text,
                 "These %zu tests show that training moves them%s, but not a "
                 "fatigue effect (p = %.2f): the plan rests mostly on the "
                 "literature. ",
                 n, p_training, f->p_fatigue);
    else
        text_add(text,
                 "These %zu tests show that training moves them%s, and a "
                 "fatigue effect (p = %.2g). ",
                 n, p_training, f->p_fatigue);
}

/* What AICc adds where it disagrees with the F test against a constant. */
static const char *aicc_against_f(const Fitted *f, bool constant) {
    if (constant && f->p_training <= .05)
        return "With so few tests that asks for more than chance does: what "
               "they show of training is not firm. ";
    if (!constant && f->p_training > .05)
        return "Its lead over a constant is not beyond chance. ";
    return "";
}

/* AICc: the smallest fits best for its size. */
static void add_aicc(const Fitted *f, Text *text) {
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

static void add_skill(const Fitted *f, Text *text) {
    const Forecast *k = &f->forecast;
    if (k->count < 3) {
        text_add(text, "Too few tests to say whether the model predicts. ");
        return;
    }
    text_add(text,
             "Each test predicted from the earlier ones: error %.3g; the last "
             "test carried forward %.3g; the mean of the earlier ones %.3g. ",
             k->model, k->last, k->mean);
    if (k->model > k->last || k->model > k->mean)
        text_add(text,
                 "The model predicts later tests worse than %s does: do not "
                 "rely on it.",
                 k->model > k->last ? "the last test" : "their mean");
    else if (k->skill < .1)
        text_add(text, "The model predicts hardly better than the last test.");
    else
        text_add(text, "The model predicts better than both.");
}

static void print_verdict(const Fitted *f, FILE *to) {
    Text text = {0};
    char day[DATE_TEXT];
    add_effects(f, &text);
    add_undetermined(f, &text);
    add_no_taper(f, &text);
    if (f->best.exists)
        add_bounds(f, &text);
    if (f->best.exists)
        add_correlations(f, &text);
    add_aicc(f, &text);
    if (f->posterior.ess < POSTERIOR_LEAST)
        text_add(&text,
                 "Only %.0f of the draws %s effective, under %d: neither the "
                 "intervals nor what is likely can be relied on; look for a "
                 "slip among the tests.",
                 f->posterior.ess, f->posterior.ess < 1.5 ? "is" : "are",
                 POSTERIOR_LEAST);
    else
        add_skill(f, &text);
    if (f->next != DATE_NONE)
        text_add(&text,
                 " The next test would tell most on %s: it should narrow the "
                 "interval of a taper's gain to about %.0f %% of its width.",
                 date_write_short(day, f->next), 100 * f->next_share);
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* The taper recommended when training before the log was `before`. */
static void add_start(const Fitted *f, const char *what, double before,
                      Text *text) {
    const Question *q = f->c->desk->question;
    Outlook outlook;
    OwnTests own = {.test = 0};
    Posterior posterior = {.sigma = NULL};
    Score score;
    Search search;
    Status status = {0};
    outlook_build(&f->c->usual, &f->c->daily, f->c->event, before, &outlook);
    if (own_tests(f->c->desk->season, f->c->athlete, &outlook, q->test, &own) &&
        posterior_run(&f->prior, &own.data, &f->scale, DRAWS_DEFAULT, q->seed,
                      &posterior, &status) == STATUS_OK) {
        score_build(&outlook, &posterior.centre, q->aim, &score);
        if (search_run(&outlook, &score, &q->limits, &search, &status) ==
            STATUS_OK) {
            text_add(text, "%s%s %.3g a day: ", text->length ? "; " : "", what,
                     before);
            option_write(&search.items[search.recommended].option, text);
        }
        search_free(&search);
        score_free(&score);
    }
    posterior_free(&posterior);
    own_free(&own);
    outlook_free(&outlook);
}

/* --before fit: what difference the starting state makes to the answer. */
static void print_starts(const Fitted *f, FILE *to) {
    Text list = {0}, text = {0};
    if (f->c->desk->question->before != BEFORE_FIT || !f->c->event ||
        f->c->outlook.window == 0)
        return;
    add_start(f, "steady", daily_first_mean(&f->c->daily), &list);
    add_start(f, "nothing", 0, &list);
    add_start(f, "fitted", f->c->before, &list);
    text_add(&text, "Recommended by the training before the log: %s.",
             text_of(&list));
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&list);
    text_free(&text);
}

static void print_one(const Fitted *f, FILE *to) {
    char from[DATE_TEXT], until[DATE_TEXT];
    const TestData *d = &f->own.data;
    Text text = {0};
    text_add(&text, "%s: %zu test%s of %s%s, %s to %s; %s", f->c->name,
             d->count, d->count == 1 ? "" : "s", f->test,
             f->own.lower ? " (lower is better)" : "",
             date_write(from, f->own.date[0]),
             date_write(until, f->own.date[d->count - 1]),
             response_kind_names[f->prior.params.kind]);
    if (f->best.exists && isfinite(f->best.r2))
        text_add(&text, ", R2 %.2f", f->best.r2);
    print_wrapped(to, text_of(&text), 79, 2);
    fputc('\n', to);
    print_table(f, to);
    fputc('\n', to);
    print_verdict(f, to);
    print_starts(f, to);
    fputc('\n', to);
    text_free(&text);
}

/* ---- files ---- */

static void write_row(FILE *to, const char *parameter, const char *value,
                      const char *unit, const char *source) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, parameter);
    csv_text(&csv, value);
    csv_text(&csv, ""); /* no spread: the draws tell it */
    csv_text(&csv, unit);
    csv_text(&csv, source);
    csv_end(&csv);
}

static void write_parameter(FILE *to, const Fitted *f, Param param) {
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, param_names[param]);
    csv_number(&csv, f->posterior.centre.value[param]);
    csv_text(&csv, "");
    csv_text(&csv, param == PARAM_P0 ? f->test : "");
    csv_text(&csv, "median of the shape, level and scale given it");
    csv_end(&csv);
}

/* What a file is made of. */
typedef struct {
    const Fitted *f;
    const char *name; /* of the file, without its ending */
} Source;

static void write_model(const void *from, FILE *to) {
    const Source *source = from;
    const Fitted *f = source->f;
    Text text = {0};
    csv_header(to, "parameter,value,spread,unit,source");
    text_add(&text, "peakward fit: %zu tests of %s of %s, prior %s",
             f->own.data.count, f->test, f->c->name, f->prior.name);
    write_row(to, "kind", response_kind_names[f->prior.params.kind], "",
              text_of(&text));
    for (int i = 0; i < PARAMS; i++)
        if (response_has(f->prior.params.kind, (Param)i))
            write_parameter(to, f, (Param)i);
    text_clear(&text);
    text_add(&text, "%s-draws.csv", source->name);
    write_row(to, "draws", text_of(&text),
              f->own.lower ? "lower is better" : "", "");
    text_free(&text);
}

static void write_draws(const void *from, FILE *to) {
    const Fitted *f = ((const Source *)from)->f;
    csv_header(to, "p0,k1,k2,tau1,tau2,tau_rise,k3,tau3,sigma");
    for (size_t i = 0; i < f->posterior.draws.count; i++) {
        Csv csv;
        csv_begin(&csv, to);
        for (int p = 0; p < PARAMS; p++)
            csv_number(&csv, f->posterior.draws.set[i].value[p]);
        csv_number(&csv, f->posterior.sigma[i]);
        csv_end(&csv);
    }
}

static StatusCode write_files(const Output *o, const Fitted *f, size_t count,
                              Status *status) {
    static const struct {
        const char *ending;
        void (*fill)(const void *, FILE *);
    } kinds[] = {{"-draws.csv", write_draws}, {".csv", write_model}};
    Text paths = {0};
    StatusCode code = outfile_make_folder(o->folder, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Text name = {0};
        Source source = {&f[i], NULL};
        output_file_name(f[i].c, "model", &name);
        source.name = text_of(&name);
        for (int k = 0; k < 2 && code == STATUS_OK; k++) {
            Text path = {0};
            text_add(&path, "%s/%s%s", o->folder, source.name, kinds[k].ending);
            code =
                outfile_write(text_of(&path), kinds[k].fill, &source, status);
            text_add(&paths, "%s\n", text_of(&path));
            text_free(&path);
        }
        text_free(&name);
    }
    if (code == STATUS_OK && !o->csv)
        output_list(o, "Files (for --model)", &paths);
    text_free(&paths);
    return code;
}

/* ---- pictures ---- */

/* A value of each draw, to be freed. */
static double *column_of(const Draws *draws, Param param) {
    double *values = mem_new(draws->count, sizeof *values);
    for (size_t i = 0; i < draws->count; i++)
        values[i] = draws->set[i].value[param];
    return values;
}

static StatusCode draw_posterior(const Fitted *f, const Gallery *gallery,
                                 const char *name, Text *paths,
                                 Status *status) {
    Draws prior;
    Text title = {0};
    StatusCode code;
    if (!response_has(f->prior.params.kind, PARAM_TAU2))
        return STATUS_OK;
    code = draws_from_spreads(&f->prior, DRAWS_DEFAULT,
                              f->c->desk->question->seed, &prior, status);
    if (code != STATUS_OK)
        return code;
    text_add(&title, "%s: time constants after %zu tests of %s", f->c->name,
             f->own.data.count, f->test);
    {
        double *column[] = {column_of(&f->posterior.draws, PARAM_TAU1),
                            column_of(&f->posterior.draws, PARAM_TAU2),
                            column_of(&prior, PARAM_TAU1),
                            column_of(&prior, PARAM_TAU2)};
        bool known = f->best.exists;
        PosteriorPicture picture = {
            text_of(&title),
            "each point a model that is likely, with 5-95 % intervals",
            column[0],
            column[1],
            f->posterior.draws.count,
            column[2],
            column[3],
            prior.count,
            known ? f->best.params.value[PARAM_TAU1] : NAN,
            known ? f->best.params.value[PARAM_TAU2] : NAN};
        code = picture_posterior(&picture, gallery, name, paths, status);
        for (int i = 0; i < 4; i++)
            free(column[i]);
    }
    draws_free(&prior);
    text_free(&title);
    return code;
}

/* What the model in use leaves of each test, as the test reads. */
static StatusCode draw_residuals(const Fitted *f, const Gallery *gallery,
                                 const char *name, Text *paths,
                                 Status *status) {
    const TestData *d = &f->own.data;
    double *residual = mem_new(d->count, sizeof *residual), at[3], reading;
    Draws centre = {1, (ResponseParams *)(uintptr_t)&f->posterior.centre};
    Text title = {0};
    StatusCode code;
    for (size_t i = 0; i < d->count; i++) {
        forecast_at(&centre, &d->timeline, d->step[i], d->when[i], &reading);
        residual[i] = d->value[i] - reading;
        if (f->own.lower)
            residual[i] = -residual[i];
    }
    sigma_points(f, at);
    text_add(&title, "%s: what the likely model leaves of each test",
             f->c->name);
    {
        ResidualsPicture picture = {text_of(&title),
                                    "outcome less model; no pattern should "
                                    "be left",
                                    f->test,
                                    f->own.date,
                                    residual,
                                    d->count,
                                    at[MIDDLE]};
        code = picture_residuals(&picture, gallery, name, paths, status);
    }
    free(residual);
    text_free(&title);
    return code;
}

static StatusCode draw_forecast(const Fitted *f, const Gallery *gallery,
                                const char *name, Text *paths, Status *status) {
    const Forecast *k = &f->forecast;
    double *column[5];
    Text title = {0};
    StatusCode code;
    if (k->count == 0)
        return STATUS_OK;
    for (int c = 0; c < 5; c++)
        column[c] = mem_new(k->count, sizeof *column[c]);
    for (size_t i = 0; i < k->count; i++) {
        double sign = f->own.lower ? -1 : 1;
        column[0][i] = sign * f->own.data.value[i + 1];
        column[1][i] = sign * k->predicted[i];
        column[2][i] = fmin(sign * k->low[i], sign * k->high[i]);
        column[3][i] = fmax(sign * k->low[i], sign * k->high[i]);
        column[4][i] = sign * f->own.data.value[i];
    }
    text_add(&title, "%s: each test predicted from the earlier ones only",
             f->c->name);
    {
        ForecastPicture picture = {
            text_of(&title), "with 5-95 % intervals, noise included",
            f->test,         f->own.date + 1,
            column[0],       column[1],
            column[2],       column[3],
            column[4],       k->count};
        code = picture_forecast(&picture, gallery, name, paths, status);
    }
    for (int c = 0; c < 5; c++)
        free(column[c]);
    text_free(&title);
    return code;
}

/* The fitted curve with its band and the tests, where the case's model is that
 * of its tests (with --model it is the prior's). */
static StatusCode draw_curve(const Fitted *f, const Gallery *gallery,
                             Text *paths, Status *status) {
    const Case *c = f->c;
    Option none = {.count = 0};
    Curves curves;
    StatusCode code;
    if (!c->desk->models[c->model]->own)
        return STATUS_OK;
    curves_build(c, &none, READ_BEFORE, c->outlook.log_days, true, &curves);
    code = curves_draw(&curves, "fitted", gallery, paths, status);
    curves_free(&curves);
    return code;
}

typedef StatusCode (*DrawFitted)(const Fitted *, const Gallery *, const char *,
                                 Text *, Status *);

static StatusCode draw_one(const void *answers, size_t at,
                           const Gallery *gallery, Text *paths,
                           Status *status) {
    static const struct {
        DrawFitted draw;
        const char *what;
    } pictures[] = {{draw_posterior, "posterior"},
                    {draw_residuals, "residuals"},
                    {draw_forecast, "forecast"}};
    const Fitted *f = (const Fitted *)answers + at;
    StatusCode code = draw_curve(f, gallery, paths, status);
    for (size_t k = 0; k < 3 && code == STATUS_OK; k++) {
        Text name = {0};
        output_file_name(f->c, pictures[k].what, &name);
        code = pictures[k].draw(f, gallery, text_of(&name), paths, status);
        text_free(&name);
    }
    return code;
}

/* ---- the answer ---- */

static void print_fitted(const Call *call, const Fitted *f, FILE *to) {
    if (call->output.csv)
        print_csv(f, to);
    else
        print_one(f, to);
}

static void print_head(const Output *o) {
    if (o->csv)
        output_header(o, "athlete,test,model,quantity,estimate,low,high,unit");
}

static void print_foot(const Desk *d, const Case *first, FILE *to) {
    print_wrapped(to,
                  "'best fit': least squares, with standard errors. 'likely': "
                  "median of what the tests and the literature's prior say "
                  "together, with its 5-95 % interval; the other commands use "
                  "these draws. k and p0 in units of the test; lower-is-better "
                  "tests are negated for the gains.",
                  79, 2);
    desk_print_basis(d, first, to);
    desk_print_cautions(d, to);
}

/* Tests of the kind fitted on days the log does not know. */
static void note_outside(Notes *notes, const Case *c, const OwnTests *own) {
    const Athlete *a = &c->desk->season->athletes[c->athlete];
    Date from = c->outlook.first, to = from + (Date)c->outlook.log_days - 1;
    Place who = {c->name, 0, NULL};
    char first[DATE_TEXT];
    size_t outside = 0;
    for (size_t i = 0; i < a->test_count; i++) {
        Date date = a->tests[i].date;
        if (a->tests[i].test != own->test || (date >= from && date <= to))
            continue;
        if (outside++ == 0)
            date_write(first, date);
    }
    if (outside)
        notes_add(notes, LEVEL_WARNING, who,
                  "%zu test%s outside the days of the log (%s%s) left out",
                  outside, outside == 1 ? "" : "s", first,
                  outside == 1 ? "" : " the first");
}

/* Has the athlete tests that can tell something? If not she is left out, with
 * a warning. */
static bool has_tests(Desk *d, const Case *c, OwnTests *own) {
    Place who = {c->name, 0, NULL};
    const char *name = d->question->test;
    if (!own_tests(d->season, c->athlete, &c->outlook, name, own)) {
        notes_add(d->notes, LEVEL_WARNING, who,
                  "has no tests%s%s in the days of the log and is left out",
                  name ? " of " : "", name ? name : "");
        return false;
    }
    note_outside(d->notes, c, own);
    if (!own_flat(own))
        return true;
    notes_add(d->notes, LEVEL_WARNING, who,
              "the load hardly varies over the log, so the tests tell "
              "nothing of time constants, and this athlete is left "
              "out");
    own_free(own);
    return false;
}

static StatusCode refuse_none(const Call *call, const Desk *d) {
    Place place = {d->season->folder, 0, NULL};
    notes_add(call->notes, LEVEL_ERROR, place,
              "no athlete has tests%s%s to fit; expected rows in "
              "tests.csv on days of a log whose load varies",
              call->question->test ? " named " : "",
              call->question->test ? call->question->test : "");
    return notes_code(call->notes);
}

/* ---- with files: all athletes are kept for them ---- */

static StatusCode fit_all(const Call *call, Desk *d, const Case *cases,
                          size_t count, Fitted *f, size_t *fitted,
                          Status *status) {
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes fitted", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        Fitted *next = &f[*fitted];
        progress_step(&progress, i);
        *next = (Fitted){.next = DATE_NONE};
        if (!has_tests(d, &cases[i], &next->own))
            continue;
        (*fitted)++;
        code = compute(&cases[i], desk_prior(d, &cases[i]), next, status);
    }
    progress_end(&progress);
    if (*fitted == 0 && code == STATUS_OK)
        return refuse_none(call, d);
    return code == STATUS_OK ? notes_code(call->notes) : code;
}

static StatusCode fit_with_files(const Call *call, Desk *d, Status *status) {
    Case *cases = NULL;
    size_t count = 0, fitted = 0;
    StatusCode code = desk_cases(d, false, &cases, &count);
    Fitted *f = mem_new(count, sizeof *f);
    if (code == STATUS_OK)
        code = fit_all(call, d, cases, count, f, &fitted, status);
    call->say(call->notes);
    if (code == STATUS_OK) {
        print_head(&call->output);
        for (size_t i = 0; i < fitted; i++)
            print_fitted(call, &f[i], call->output.to);
        if (!call->output.csv)
            print_foot(d, f[0].c, call->output.to);
        code = write_files(&call->output, f, fitted, status);
    }
    if (code == STATUS_OK)
        code = output_draw(&call->output, &(Drawing){f, fitted, draw_one},
                           "Pictures", status);
    for (size_t i = 0; i < fitted; i++)
        fitted_free(&f[i]);
    free(f);
    desk_free_cases(cases, count);
    return code;
}

/* ---- without: athlete after athlete ---- */

typedef struct {
    Seat seat;
    Status status;
    bool fitted;
    Spool text;
} FitSlot;

typedef struct {
    const Call *call;
    Desk *desk;
    Case first;
    size_t fitted;
    Spool spool;
    Status *status;
} FitJob;

static void fit_work(void *with, Seat *seat) {
    const FitJob *job = with;
    FitSlot *slot = (FitSlot *)seat;
    Desk *d = &seat->desk;
    Fitted f = {.next = DATE_NONE};
    if (!has_tests(d, &seat->c, &f.own))
        return;
    slot->fitted = compute(&seat->c, desk_prior(d, &seat->c), &f,
                           &slot->status) == STATUS_OK;
    if (slot->fitted) {
        case_take_own(d, &seat->c, &f.own, &f.posterior);
        print_fitted(job->call, &f, spool_open(&slot->text));
    }
    fitted_free(&f);
}

static bool fit_take(void *with, Seat *seat) {
    FitJob *job = with;
    FitSlot *slot = (FitSlot *)seat;
    if (slot->status.code != STATUS_OK && job->status->code == STATUS_OK)
        *job->status = slot->status;
    spool_move(&slot->text, &job->spool);
    if (slot->fitted && job->fitted++ == 0)
        desk_keep(job->desk, seat, &job->first);
    return job->status->code == STATUS_OK;
}

static StatusCode fit_each(const Call *call, Desk *d, Status *status) {
    FitJob job = {.call = call, .desk = d, .status = status};
    Stream stream = {.doing = "athletes fitted",
                     .slot = sizeof(FitSlot),
                     .work = fit_work,
                     .take = fit_take,
                     .with = &job};
    StatusCode code;
    d->own_later = true;
    spool_file(&job.spool);
    code = desk_stream(d, &stream);
    if (status->code != STATUS_OK)
        code = status->code;
    else if (job.fitted == 0 && code == STATUS_OK)
        code = refuse_none(call, d);
    call->say(call->notes);
    if (code == STATUS_OK)
        code = spool_end(&job.spool, status);
    if (code == STATUS_OK) {
        print_head(&call->output);
        code = spool_print(&job.spool, call->output.to, status);
        if (!call->output.csv)
            print_foot(d, &job.first, call->output.to);
    }
    spool_free(&job.spool);
    case_free(&job.first);
    return code;
}

StatusCode command_fit(const Call *call, Status *status) {
    Desk d;
    StatusCode code = call->output.folder
                          ? desk_open(call->question, call->notes, &d)
                          : desk_open_each(call->question, call->notes, &d);
    if (code != STATUS_OK)
        call->say(call->notes);
    else if (call->output.folder)
        code = fit_with_files(call, &d, status);
    else
        code = fit_each(call, &d, status);
    desk_close(&d);
    return code;
}
