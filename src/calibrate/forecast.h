/* forecast: does the model predict? Each test is predicted from the earlier
 * ones only.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_FORECAST_H
#define CALIBRATE_FORECAST_H

#include "calibrate/posterior.h"

typedef struct {
    size_t count;             /* tests predicted: all but the first */
    double *predicted;        /* [test] median of the model's prediction */
    double *low, *high;       /* [test] 5 % and 95 % points, noise included */
    double model, last, mean; /* root mean square errors of the model, of the
                                 last test carried forward, and of the mean of
                                 the earlier tests [test] */
    double skill; /* 1 - (model/last)^2; NAN when it cannot be told */
} Forecast;

/* `trail` is that of the posterior of all tests, and is used up; of fewer than
 * two tests NULL. */
void forecast_run(const TestData *data, unsigned long seed, Trail *trail,
                  Forecast *forecast);
void forecast_free(Forecast *forecast);

/* Reading of each of `draws` at one step of a timeline [test]. */
void forecast_at(const Draws *draws, const Timeline *timeline, size_t step,
                 ReadWhen when, double *reading);

#endif
