/* athlete_fit: see athlete_fit.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/athlete_fit.h"

#include "base/mem.h"
#include "calibrate/next.h"
#include "response/landmarks.h"

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

/* Gain of two weeks at half volume under each draw, at the next event. */
static double *gains(const AthleteFit *f) {
    const Draws *draws = &f->posterior.draws;
    double *gain = mem_new(draws->count, sizeof *gain);
    Option option = {.count = 1, .part = {{14, 50, 50, 'x'}}};
    for (size_t i = 0; i < draws->count; i++) {
        Score score;
        score_build(&f->c->outlook, &draws->set[i],
                    f->c->context->question->aim, &score);
        gain[i] = score_option(&score, &option) - score_aim(&score, score.base);
        score_free(&score);
    }
    return gain;
}

enum { NEXT_DAYS = 21 }; /* [d] in which the next test may lie */

static void find_next(AthleteFit *f) {
    const Outlook *o = &f->c->outlook;
    double *reading, *gain;
    f->next = DATE_NONE;
    if (!f->c->context->question->next_test || !f->c->event || o->window == 0)
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

StatusCode athlete_fit_make(const Case *c, const Model *model, AthleteFit *f,
                            Status *status) {
    const Question *q = c->context->question;
    StatusCode code;
    Trail *trail = NULL;
    if (model->params.kind == RESPONSE_GRADED) /* no columns, no posterior */
        return status_fail(status, STATUS_DATA,
                           "%s: tests cannot be fitted to a graded model, "
                           "expected a model of another kind",
                           model->name);
    f->c = c;
    f->test = c->context->season->test_names.items[f->own.test];
    athlete_tests_prior(model, &f->prior);
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

void athlete_fit_free(AthleteFit *f) {
    athlete_tests_free(&f->own);
    posterior_free(&f->posterior);
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
    if (outside)
        notes_add(notes, LEVEL_WARNING, who,
                  "%zu test%s outside the days of the log (%s%s) left out",
                  outside, outside == 1 ? "" : "s", first,
                  outside == 1 ? "" : " the first");
}

bool athlete_fit_has_tests(Context *d, const Case *c, AthleteTests *own) {
    Place who = {c->name, 0, NULL};
    const char *name = d->question->test;
    if (!athlete_tests_read(d->season, c->athlete, &c->outlook, name, own)) {
        notes_add(d->notes, LEVEL_WARNING, who,
                  "has no tests%s%s in the days of the log and is left out",
                  name ? " of " : "", name ? name : "");
        return false;
    }
    note_outside(d->notes, c, own);
    if (!athlete_tests_flat(own))
        return true;
    notes_add(d->notes, LEVEL_WARNING, who,
              "the load hardly varies over the log, so the tests tell "
              "nothing of time constants, and this athlete is left "
              "out");
    athlete_tests_free(own);
    return false;
}
