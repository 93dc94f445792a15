/* fit_pictures: see fit_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/fit_pictures.h"

#include "answers/athlete_fit.h"
#include "base/mem.h"
#include "output/curves_picture.h"
#include "output/output.h"
#include "present/fit_pictures.h"

#include <math.h>
#include <stdlib.h>

/* A value of each draw, to be freed. */
static double *column_of(const Draws *draws, Param param) {
    double *values = mem_new(draws->count, sizeof *values);
    for (size_t i = 0; i < draws->count; i++)
        values[i] = draws->set[i].value[param];
    return values;
}

static StatusCode draw_posterior(const AthleteFit *f, const Gallery *gallery,
                                 const char *name, Text *paths,
                                 Status *status) {
    Draws prior;
    Text title = {0};
    StatusCode code;
    if (!response_has(f->prior.params.kind, PARAM_TAU2))
        return STATUS_OK;
    code = draws_from_spreads(&f->prior, DRAWS_DEFAULT,
                              f->c->context->question->seed, &prior, status);
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
            "each point a model that is likely, with 90 % ranges",
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
static StatusCode draw_residuals(const AthleteFit *f, const Gallery *gallery,
                                 const char *name, Text *paths,
                                 Status *status) {
    const TestData *d = &f->own.data;
    double *residual = mem_new(d->count, sizeof *residual), at[3], reading;
    ResponseParams params = f->posterior.centre;
    Draws centre = {1, &params};
    Text title = {0};
    StatusCode code;
    for (size_t i = 0; i < d->count; i++) {
        forecast_at(&centre, &d->timeline, d->step[i], d->when[i], &reading);
        residual[i] = d->value[i] - reading;
        if (f->own.lower)
            residual[i] = -residual[i];
    }
    athlete_fit_sigma(f, at);
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

static StatusCode draw_forecast(const AthleteFit *f, const Gallery *gallery,
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
            text_of(&title), "with 90 % ranges, noise included",
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
static StatusCode draw_curve(const AthleteFit *f, const Gallery *gallery,
                             Text *paths, Status *status) {
    const Case *c = f->c;
    Option none = {.count = 0};
    Curves curves;
    StatusCode code;
    if (!c->context->models[c->model]->own)
        return STATUS_OK;
    curves_build(c, &none, READ_BEFORE, c->outlook.log_days, &curves);
    code = curves_picture_draw(&curves, "fitted", gallery, paths, status);
    curves_free(&curves);
    return code;
}

typedef StatusCode (*DrawFitted)(const AthleteFit *, const Gallery *,
                                 const char *, Text *, Status *);

StatusCode fit_pictures_draw(const void *answers, size_t at,
                             const Gallery *gallery, Text *paths,
                             Status *status) {
    static const struct {
        DrawFitted draw;
        const char *what;
    } pictures[] = {{draw_posterior, "posterior"},
                    {draw_residuals, "residuals"},
                    {draw_forecast, "forecast"}};
    const AthleteFit *f = (const AthleteFit *)answers + at;
    StatusCode code = draw_curve(f, gallery, paths, status);
    for (size_t k = 0; k < 3 && code == STATUS_OK; k++) {
        Text name = {0};
        output_file_name(f->c, pictures[k].what, &name);
        code = pictures[k].draw(f, gallery, text_of(&name), paths, status);
        text_free(&name);
    }
    return code;
}
