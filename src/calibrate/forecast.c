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

/* Predicts test `at` from those before it. */
static StatusCode predict(const Model *model, const TestData *data,
                          const PosteriorPrior *prior, unsigned long seed,
                          size_t at, Forecast *f, Status *status) {
    enum { DRAWS = 512 };
    TestData earlier = *data;
    Posterior posterior;
    double reading[DRAWS];
    StatusCode code;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    gsl_rng_set(rng, seed + at);
    earlier.count = at;
    code =
        posterior_run(model, &earlier, prior, DRAWS, seed, &posterior, status);
    if (code == STATUS_OK) {
        forecast_at(&posterior.draws, &data->timeline, data->step[at],
                    data->when[at], reading);
        f->predicted[at - 1] = draws_quantile(reading, DRAWS, .5);
        /* reading[] has been reordered: noise may still be added to each */
        forecast_at(&posterior.draws, &data->timeline, data->step[at],
                    data->when[at], reading);
        for (size_t i = 0; i < DRAWS; i++)
            reading[i] += gsl_ran_gaussian(rng, posterior.sigma[i] /
                                                    sqrt(data->weight[at]));
        f->low[at - 1] = draws_quantile(reading, DRAWS, .05);
        f->high[at - 1] = draws_quantile(reading, DRAWS, .95);
    }
    posterior_free(&posterior);
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
                        Forecast *f, Status *status) {
    StatusCode code = STATUS_OK;
    *f = (Forecast){.skill = NAN, .model = 0};
    if (data->count < 2)
        return code;
    f->count = data->count - 1;
    f->predicted = mem_new(f->count, sizeof *f->predicted);
    f->low = mem_new(f->count, sizeof *f->low);
    f->high = mem_new(f->count, sizeof *f->high);
    for (size_t at = 1; at < data->count && code == STATUS_OK; at++)
        code = predict(model, data, prior, seed, at, f, status);
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
