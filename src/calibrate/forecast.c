/* forecast: see forecast.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/forecast.h"

#include "base/mem.h"
#include "calibrate/readings.h"

#include <gsl/gsl_cdf.h>
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

enum { DRAWS = 256, RENEWALS = 30, RECENT = 5, PAIRS_LEAST = 4 };

/* Median and interval of a test from readings without noise, which are used
 * up; noise at even quantiles in a scattered order. */
static void set_points(const TestData *data, size_t at, double *reading,
                       const double *sigma, Forecast *f) {
    double median[DRAWS];
    memcpy(median, reading, sizeof median);
    f->predicted[at - 1] = draws_quantile(median, DRAWS, .5);
    for (size_t i = 0; i < DRAWS; i++) {
        double u = ((double)(i * 101 % DRAWS) + .5) / DRAWS;
        reading[i] +=
            sigma[i] / sqrt(data->weight[at]) * gsl_cdf_ugaussian_Pinv(u);
    }
    f->low[at - 1] = draws_quantile(reading, DRAWS, .05);
    f->high[at - 1] = draws_quantile(reading, DRAWS, .95);
}

static double rival_of(const TestData *d, size_t at, Rival rival) {
    size_t most = rival == RIVAL_LAST ? 1 : rival == RIVAL_MEAN ? at : RECENT;
    size_t from = at > most ? at - most : 0;
    double sum = 0;
    for (size_t i = from; i < at; i++)
        sum += d->value[i];
    return sum / (double)(at - from);
}

static void set_contest(const TestData *d, Rival rival, Forecast *f) {
    Contest *c = &f->rival[rival];
    double n = (double)f->count, own = 0, other = 0, squares = 0;
    for (size_t i = 0; i < f->count; i++) {
        double model = pow(d->value[i + 1] - f->predicted[i], 2);
        double simple = pow(d->value[i + 1] - rival_of(d, i + 1, rival), 2);
        own += model / n;
        other += simple / n;
        squares += (simple - model) * (simple - model) / n;
    }
    f->error = sqrt(own);
    c->error = sqrt(other);
    c->ahead = other - own;
    c->noise = f->count >= PAIRS_LEAST
                   ? sqrt(fmax(0, squares - c->ahead * c->ahead) / (n - 1))
                   : NAN;
    if (fabs(c->ahead) > 2 * c->noise)
        c->better = c->ahead > 0 ? 1 : -1;
}

static void predict(const TestData *data, Trail *trail, Forecast *f) {
    size_t block = (f->count + RENEWALS - 1) / RENEWALS;
    Readings *from = readings_new(trail);
    double *reading = mem_new(block * DRAWS, sizeof *reading), sigma[DRAWS];
    for (size_t at = 1; at < data->count; at += block) {
        size_t ahead = data->count - at < block ? data->count - at : block;
        readings_predict(from, at, ahead, DRAWS, reading, sigma);
        for (size_t i = 0; i < ahead; i++)
            set_points(data, at + i, reading + i * DRAWS, sigma, f);
    }
    readings_free(from);
    free(reading);
}

void forecast_run(const TestData *data, Trail *trail, Forecast *f) {
    *f = (Forecast){.skill = NAN};
    if (data->count < 2)
        return;
    f->count = data->count - 1;
    f->predicted = mem_new(f->count, sizeof *f->predicted);
    f->low = mem_new(f->count, sizeof *f->low);
    f->high = mem_new(f->count, sizeof *f->high);
    predict(data, trail, f);
    for (int rival = 0; rival < RIVALS; rival++)
        set_contest(data, (Rival)rival, f);
    if (f->rival[RIVAL_LAST].error > 0)
        f->skill = 1 - pow(f->error / f->rival[RIVAL_LAST].error, 2);
}

void forecast_free(Forecast *f) {
    free(f->predicted);
    free(f->low);
    free(f->high);
    *f = (Forecast){0};
}
