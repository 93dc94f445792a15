/* athlete_fit: see athlete_fit.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/athlete_fit.h"

#include "base/mem.h"
#include "calibrate/next.h"
#include "calibrate/rounds.h"
#include "cases/models.h"
#include "response/landmarks.h"
#include "taper/score.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void athlete_fit_points(const AthleteFit *f, Quantity of, Param param,
                        double at[3]) {
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

double athlete_fit_t_n(const ResponseParams *p, Param param) {
    (void)param;
    return landmarks_of(p).t_n;
}

double athlete_fit_t_g(const ResponseParams *p, Param param) {
    (void)param;
    return landmarks_of(p).t_g;
}

void athlete_fit_param(const AthleteFit *f, Param param, double at[3]) {
    athlete_fit_points(f, value_of, param, at);
    if (param == PARAM_P0 && f->own.lower) {
        double low = -at[HIGH];
        at[HIGH] = -at[LOW];
        at[MIDDLE] = -at[MIDDLE];
        at[LOW] = low;
    }
}

void athlete_fit_sigma(const AthleteFit *f, double at[3]) {
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

/* Tapers among which a next test should help to choose; no taper is another. */
static const Option choices[] = {
    {{{3, 100, 100, 'x'}}, 1}, {{{7, 50, 50, 'x'}}, 1},
    {{{8, 50, 50, 'x'}}, 1},   {{{14, 25, 25, 'x'}}, 1},
    {{{14, 50, 50, 'x'}}, 1},  {{{7, 50, 50, 'x'}, {7, 75, 75, 'x'}}, 2},
};

enum {
    CHOICES = sizeof choices / sizeof choices[0],
    CHOICE_DAYS = 14, /* of the longest */
    NEXT_DAYS = 21,   /* [d] in which the next test may lie */
    NEXT_DRAWS = 512
};

/* Every so-manieth draw. */
static void thin(const Posterior *all, ResponseParams *set, double *sigma,
                 Posterior *some) {
    size_t n = all->draws.count < NEXT_DRAWS ? all->draws.count : NEXT_DRAWS;
    for (size_t i = 0; i < n; i++) {
        set[i] = all->draws.set[i * all->draws.count / n];
        sigma[i] = all->sigma[i * all->draws.count / n];
    }
    *some = (Posterior){.draws = {n, set}, .sigma = sigma};
}

/* Of each choice under each draw, at the next event; the first is no taper. */
static double *gains(const AthleteFit *f, const Draws *draws) {
    double *gain = mem_new((CHOICES + 1) * draws->count, sizeof *gain);
    DrawScores scores;
    draw_scores_build(&f->c->outlook, draws, f->c->context->question->aim, NAN,
                      &scores);
    for (size_t k = 0; k < CHOICES; k++)
        draw_scores_gains(&scores, &choices[k], gain + (k + 1) * draws->count);
    draw_scores_free(&scores);
    return gain;
}

/* Days that are worth at least nine tenths of the best, about it. */
static void set_range(AthleteFit *f, const double *worth, size_t days,
                      Date first) {
    size_t best = 0, from, to;
    for (size_t day = 1; day < days; day++)
        best = worth[day] > worth[best] ? day : best;
    for (from = best; from > 0 && worth[from - 1] >= .9 * worth[best];)
        from--;
    for (to = best; to + 1 < days && worth[to + 1] >= .9 * worth[best];)
        to++;
    f->next = first + (Date)from;
    f->next_last = first + (Date)to;
    f->next_worth = worth[best];
}

/* Days before the longest of these tapers begins. */
static void find_next(AthleteFit *f) {
    const Outlook *o = &f->c->outlook;
    double worth[NEXT_DAYS], reading[NEXT_DRAWS], sigma[NEXT_DRAWS], *gain;
    ResponseParams *set;
    Posterior some;
    size_t days = 0;
    f->next = DATE_NONE;
    if (!f->c->context->question->next_test || !f->c->event || o->window == 0)
        return;
    set = mem_new(NEXT_DRAWS, sizeof *set);
    thin(&f->posterior, set, sigma, &some);
    gain = gains(f, &some.draws);
    for (; days < NEXT_DAYS && o->log_days + days + CHOICE_DAYS < o->event_day;
         days++) {
        Choice choice = {CHOICES + 1, gain};
        forecast_at(&some.draws, &o->timeline, o->read_step[o->log_days + days],
                    READ_BEFORE, reading);
        worth[days] = next_worth(&some, reading, &choice);
    }
    if (days > 0)
        set_range(f, worth, days, o->first + (Date)o->log_days);
    free(set);
    free(gain);
}

/* The member of a graded family in which fatigue does not grow. */
static void take_linear(Model *m) {
    double *v = m->params.value;
    if (m->params.kind != RESPONSE_GRADED)
        return;
    m->params.kind = RESPONSE_TWO_COMPONENT;
    v[PARAM_K2] = v[PARAM_K1] * v[PARAM_RATIO];
    m->spread[PARAM_K2] = m->spread[PARAM_RATIO];
    for (int i = PARAM_K3; i < PARAMS; i++)
        v[i] = m->spread[i] = NAN;
}

/* What the family says: the model that the other commands use. */
static bool find_family(Context *d, const Case *c, AthleteFit *f) {
    OwnTests own;
    bool found = models_own_tests(d, c, &own) &&
                 models_own_posterior(d, c, &own, &f->family);
    for (size_t k = 1; k < own.kinds && found; k++) {
        f->others += own.tests[k].data.count;
        f->kinds++;
    }
    models_own_free(&own);
    return found;
}

enum { NARROW_DRAWS = 256 };

/* Width of the 90 % range of the gain of a taper under every so-manieth of the
 * draws: ten days at half volume, or as many as there are. */
static double width_of(const Case *c, const Draws *draws) {
    size_t step = draws->count / NARROW_DRAWS;
    double work[2 * NARROW_DRAWS];
    Draws some = {NARROW_DRAWS, mem_new(NARROW_DRAWS, sizeof *some.set)};
    Option option = {
        .count = 1,
        .part = {{c->outlook.window < 10 ? (int)c->outlook.window : 10, 50, 50,
                  'x'}}};
    DrawScores scores;
    Spread spread;
    for (size_t i = 0; i < NARROW_DRAWS; i++)
        some.set[i] = draws->set[i * step];
    draw_scores_build(&c->outlook, &some, c->context->question->aim,
                      case_anchor(c), &scores);
    spread = draw_scores_option(&scores, &option, work);
    draw_scores_free(&scores);
    free(some.set);
    return spread.gain_high - spread.gain_low;
}

/* How much the tests, the athlete's and the squad's, narrow that range. */
static double narrowed_by(const AthleteFit *f, const Model *model) {
    const Draws *known = f->graded ? &f->family.draws : &f->posterior.draws;
    TestData none = f->own.data;
    TestGroup kind = {&none, f->kind.prior};
    PosteriorAsked asked = {.model = model,
                            .kind = &kind,
                            .kinds = 1,
                            .scale_drawn = true,
                            .seed = POSTERIOR_SEED};
    Posterior prior = {.sigma = NULL};
    Status status = {0};
    double narrowed = NAN;
    none.count = 0;
    if (!f->c->event || f->c->outlook.window == 0 ||
        known->count < NARROW_DRAWS)
        return NAN;
    if (posterior_run(&asked, DRAWS_DEFAULT, &prior, &status) == STATUS_OK &&
        prior.draws.count >= NARROW_DRAWS) {
        double before = width_of(f->c, &prior.draws);
        narrowed = before > 0 ? width_of(f->c, known) / before : NAN;
    }
    posterior_free(&prior);
    return narrowed;
}

StatusCode athlete_fit_make(Context *d, const Case *c, const Model *model,
                            AthleteFit *f, Status *status) {
    const Question *q = c->context->question;
    PosteriorAsked asked = {
        .model = &f->prior, .kinds = 1, .seed = POSTERIOR_SEED};
    StatusCode code;
    Trail *trail = NULL;
    f->c = c;
    f->test = c->context->season->test_names.items[f->own.test];
    f->graded = model->params.kind == RESPONSE_GRADED;
    athlete_tests_prior(model, &f->prior);
    take_linear(&f->prior);
    f->kind = athlete_tests_kind(c->context->season, c->athlete, &f->own);
    f->own.data.fitted = q->before == BEFORE_FIT;
    fit_best(f->prior.params.kind, &f->own.data, &f->best);
    fit_best(RESPONSE_ONE_COMPONENT, &f->own.data, &f->one);
    fit_constant(&f->own.data, &f->constant);
    f->p_fatigue = f->prior.params.kind == RESPONSE_ONE_COMPONENT
                       ? NAN
                       : fit_f_test(&f->one, &f->best);
    f->p_training = fit_f_test(&f->constant, &f->best);
    asked.kind = &f->kind;
    code = rounds_run(&asked, &trail, status);
    if (code == STATUS_OK) {
        posterior_from(trail, DRAWS_DEFAULT, &f->posterior);
        forecast_run(&f->own.data, trail, &f->forecast);
    }
    trail_free(trail);
    if (code == STATUS_OK && f->graded)
        f->graded = find_family(d, c, f);
    f->narrowed = NAN;
    if (code == STATUS_OK) {
        find_next(f);
        f->narrowed = narrowed_by(f, f->graded ? model : &f->prior);
    }
    return code;
}

void athlete_fit_free(AthleteFit *f) {
    athlete_tests_free(&f->own);
    posterior_free(&f->posterior);
    posterior_free(&f->family);
    forecast_free(&f->forecast);
}

/* ---- CSV ---- */

double athlete_fit_estimate(const AthleteFit *f, Param param,
                            const double at[3]) {
    double value = f->best.params.value[param];
    if (!f->best.exists)
        return at[MIDDLE];
    return param == PARAM_P0 && f->own.lower ? -value : value;
}

/* ---- the answer ---- */

/* Tests of the kind fitted on days the log does not know. */
static void note_outside(Notes *notes, const Case *c, const AthleteTests *own) {
    const Athlete *a = &c->context->season->athletes[c->athlete];
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
    if (outside) {
        notes_add(notes, LEVEL_WARNING, who,
                  "%zu test%s outside the days of the log (%s%s) left out",
                  outside, outside == 1 ? "" : "s", first,
                  outside == 1 ? "" : " the first");
        notes_about(notes, c->name, NULL);
    }
}

bool athlete_fit_has_tests(Context *d, const Case *c, AthleteTests *own) {
    Place who = {c->name, 0, NULL};
    const char *name = d->question->test, *flat;
    if (!athlete_tests_read(d->season, c->athlete, &c->outlook, name, own)) {
        notes_add(d->notes, LEVEL_WARNING, who,
                  "has no tests%s%s in the days of the log and is left out",
                  name ? " of " : "", name ? name : "");
        notes_about(d->notes, c->name, NULL);
        return false;
    }
    note_outside(d->notes, c, own);
    flat = athlete_tests_flat(own);
    if (!flat)
        return true;
    notes_add(d->notes, LEVEL_WARNING, who,
              "%s, so the tests tell nothing of time constants, and this "
              "athlete is left out",
              flat);
    notes_about(d->notes, c->name, NULL);
    athlete_tests_free(own);
    return false;
}
