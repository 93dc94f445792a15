/* forecast: see forecast.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/forecast.h"

#include "base/mem.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void forecast_at(const Draws *draws, const Timeline *timeline, size_t step,
                 ReadWhen when, double *reading) {
    enum { AT_ONCE = 64 };
    Timeline part = *timeline;
    double *all = mem_new(AT_ONCE * (step + 1), sizeof *all);
    part.steps = step + 1;
    for (size_t from = 0; from < draws->count; from += AT_ONCE) {
        size_t n =
            draws->count - from < AT_ONCE ? draws->count - from : AT_ONCE;
        kernel_batch(n, draws->set + from, &part, when, all);
        for (size_t i = 0; i < n; i++)
            reading[from + i] = all[step * n + i];
    }
    free(all);
}

enum { DRAWS = 512 };

/* Everything a run carries along. */
typedef struct {
    const Model *model;
    const TestData *data;
    const PosteriorPrior *prior;
    unsigned long seed;
    Trail *trail; /* in use */
    Trail *own;   /* the same, if not the caller's */
} Run;

/* A trail that looked for the first `at` tests, for when the other has too few
 * draws where they are needed. */
static StatusCode look_anew(Run *r, size_t at, Status *status) {
    Posterior posterior;
    StatusCode code;
    trail_free(r->own);
    r->own = NULL;
    code = posterior_run_kept(r->model, r->data, at, r->prior, 1, r->seed,
                              &posterior, &r->own, status);
    posterior_free(&posterior);
    r->trail = r->own;
    for (size_t i = 0; i < at && code == STATUS_OK; i++)
        trail_take(r->trail);
    return code;
}

/* Median and interval of test `at` from draws of those before it. */
static void set_points(const TestData *data, size_t at, gsl_rng *rng,
                       const double *reading, const double *sigma,
                       Forecast *f) {
    double values[DRAWS];
    memcpy(values, reading, sizeof values);
    f->predicted[at - 1] = draws_quantile(values, DRAWS, .5);
    for (size_t i = 0; i < DRAWS; i++)
        values[i] = reading[i] +
                    gsl_ran_gaussian(rng, sigma[i] / sqrt(data->weight[at]));
    f->low[at - 1] = draws_quantile(values, DRAWS, .05);
    f->high[at - 1] = draws_quantile(values, DRAWS, .95);
}

/* Predicts test `at` from those before it. */
static StatusCode predict(Run *r, size_t at, gsl_rng *rng, Forecast *f,
                          Status *status) {
    double reading[DRAWS], sigma[DRAWS];
    StatusCode code = STATUS_OK;
    gsl_rng_set(rng, r->seed + at);
    trail_take(r->trail);
    if (trail_draw(r->trail, DRAWS, rng, reading, sigma) < POSTERIOR_LEAST) {
        code = look_anew(r, at, status);
        if (code == STATUS_OK)
            trail_draw(r->trail, DRAWS, rng, reading, sigma);
    }
    if (code == STATUS_OK)
        set_points(r->data, at, rng, reading, sigma, f);
    return code;
}

static void set_errors(const TestData *d, Forecast *f) {
    double sum = d->value[0];
    for (size_t i = 1; i < d->count; i++) {
        f->model += pow(d->value[i] - f->predicted[i - 1], 2);
        f->last += pow(d->value[i] - d->value[i - 1], 2);
        f->mean += pow(d->value[i] - sum / (double)i, 2);
        sum += d->value[i];
    }
    f->skill = f->last > 0 ? 1 - f->model / f->last : NAN;
    f->model = sqrt(f->model / (double)f->count);
    f->last = sqrt(f->last / (double)f->count);
    f->mean = sqrt(f->mean / (double)f->count);
}

StatusCode forecast_run(const Model *model, const TestData *data,
                        const PosteriorPrior *prior, unsigned long seed,
                        Trail *trail, Forecast *f, Status *status) {
    Run r = {model, data, prior, seed, trail, NULL};
    StatusCode code = STATUS_OK;
    gsl_rng *rng;
    *f = (Forecast){.skill = NAN, .model = 0};
    if (data->count < 2)
        return STATUS_OK;
    f->count = data->count - 1;
    f->predicted = mem_new(f->count, sizeof *f->predicted);
    f->low = mem_new(f->count, sizeof *f->low);
    f->high = mem_new(f->count, sizeof *f->high);
    rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    for (size_t at = 1; at < data->count && code == STATUS_OK; at++)
        code = predict(&r, at, rng, f, status);
    gsl_rng_free(rng);
    trail_free(r.own);
    if (code == STATUS_OK)
        set_errors(data, f);
    return code;
}

void forecast_free(Forecast *f) {
    free(f->predicted);
    free(f->low);
    free(f->high);
    *f = (Forecast){0};
}
