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

/* The same by a posterior of its own, for when the trail has too few draws
 * where they are needed. */
static StatusCode draw_anew(const Model *model, const TestData *data,
                            const PosteriorPrior *prior, unsigned long seed,
                            size_t at, double *reading, double *sigma,
                            Status *status) {
    TestData earlier = *data;
    Posterior posterior;
    StatusCode code;
    earlier.count = at;
    code =
        posterior_run(model, &earlier, prior, DRAWS, seed, &posterior, status);
    if (code == STATUS_OK) {
        forecast_at(&posterior.draws, &data->timeline, data->step[at],
                    data->when[at], reading);
        memcpy(sigma, posterior.sigma, DRAWS * sizeof *sigma);
    }
    posterior_free(&posterior);
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

/* Predicts each test but the first from those before it. */
static StatusCode predict(const Model *model, const TestData *data,
                          const PosteriorPrior *prior, unsigned long seed,
                          Trail *trail, Forecast *f, Status *status) {
    double reading[DRAWS], sigma[DRAWS];
    StatusCode code = STATUS_OK;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    for (size_t at = 1; at < data->count && code == STATUS_OK; at++) {
        gsl_rng_set(rng, seed + at);
        if (trail_next(trail, DRAWS, rng, reading, sigma) < 2 * POSTERIOR_LEAST)
            code =
                draw_anew(model, data, prior, seed, at, reading, sigma, status);
        if (code == STATUS_OK)
            set_points(data, at, rng, reading, sigma, f);
    }
    gsl_rng_free(rng);
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
    StatusCode code;
    *f = (Forecast){.skill = NAN, .model = 0};
    if (data->count < 2)
        return STATUS_OK;
    f->count = data->count - 1;
    f->predicted = mem_new(f->count, sizeof *f->predicted);
    f->low = mem_new(f->count, sizeof *f->low);
    f->high = mem_new(f->count, sizeof *f->high);
    code = predict(model, data, prior, seed, trail, f, status);
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
