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

void forecast_run(const TestData *data, unsigned long seed, Trail *trail,
                  Forecast *f) {
    double reading[DRAWS], sigma[DRAWS];
    gsl_rng *rng;
    *f = (Forecast){.skill = NAN, .model = 0};
    if (data->count < 2)
        return;
    f->count = data->count - 1;
    f->predicted = mem_new(f->count, sizeof *f->predicted);
    f->low = mem_new(f->count, sizeof *f->low);
    f->high = mem_new(f->count, sizeof *f->high);
    rng = gsl_rng_alloc(gsl_rng_taus2);
    if (!rng)
        mem_out();
    for (size_t at = 1; at < data->count; at++) {
        gsl_rng_set(rng, seed + at);
        trail_take(trail, rng);
        trail_draw(trail, DRAWS, rng, reading, sigma);
        set_points(data, at, rng, reading, sigma, f);
    }
    gsl_rng_free(rng);
    set_errors(data, f);
}

void forecast_free(Forecast *f) {
    free(f->predicted);
    free(f->low);
    free(f->high);
    *f = (Forecast){0};
}
