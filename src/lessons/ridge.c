/* ridge: see ridge.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/ridge.h"

#include "base/mem.h"
#include "calibrate/forecast.h"

#include <math.h>
#include <stdlib.h>

static void set_misfits(const Draws *draws, const TestData *data,
                        BundleCurve *all) {
    double *reading = mem_new(draws->count, sizeof *reading);
    for (size_t i = 0; i < draws->count; i++)
        all[i].params = draws->set[i];
    for (size_t t = 0; t < data->count; t++) {
        forecast_at(draws, &data->timeline, data->step[t], data->when[t],
                    reading);
        for (size_t i = 0; i < draws->count; i++)
            all[i].misfit += pow(reading[i] - data->value[t], 2);
    }
    for (size_t i = 0; i < draws->count; i++)
        all[i].misfit = sqrt(all[i].misfit / (double)data->count);
    free(reading);
}

static void set_gains(const Draws *draws, const Timeline *none,
                      const Timeline *taper, BundleCurve *all) {
    double *with = mem_new(draws->count, sizeof *with);
    double *without = mem_new(draws->count, sizeof *without);
    forecast_at(draws, taper, taper->steps - 1, READ_BEFORE, with);
    forecast_at(draws, none, none->steps - 1, READ_BEFORE, without);
    for (size_t i = 0; i < draws->count; i++)
        all[i].gain = with[i] - without[i];
    free(with);
    free(without);
}

static int by_gain(const void *a, const void *b) {
    double x = ((const BundleCurve *)a)->gain;
    double y = ((const BundleCurve *)b)->gain;
    return (x > y) - (x < y);
}

static int by_misfit(const void *a, const void *b) {
    double x = ((const BundleCurve *)a)->misfit;
    double y = ((const BundleCurve *)b)->misfit;
    return (x > y) - (x < y);
}

void bundle_pick(const Draws *draws, const TestData *data, double error,
                 const Timeline *none, const Timeline *taper, Bundle *b) {
    BundleCurve *all = mem_new(draws->count + 1, sizeof *all);
    size_t pool;
    *b = (Bundle){.drawn = draws->count};
    if (draws->count > 0 && data->count > 0) {
        set_misfits(draws, data, all);
        set_gains(draws, none, taper, all);
    }
    qsort(all, draws->count, sizeof *all, by_misfit);
    while (b->fitting < draws->count && all[b->fitting].misfit <= error)
        b->fitting++;
    pool = b->fitting < BUNDLE_CURVES ? BUNDLE_CURVES : b->fitting;
    pool = pool < draws->count ? pool : draws->count;
    qsort(all, pool, sizeof *all, by_gain);
    b->count = pool < BUNDLE_CURVES ? pool : BUNDLE_CURVES;
    for (size_t k = 0; k < b->count; k++) {
        double place = ((double)k + .25) / ((double)b->count - .5);
        b->curve[k] = all[(size_t)(place * (double)pool)];
    }
    free(all);
}
