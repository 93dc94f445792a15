/* forecast: does the model predict? Each test is predicted from the earlier
 * ones of its kind only.
 *
 * The posterior is drawn anew for each test, or of more than 30 for every so
 * many of them. Whether it predicts better than something simpler is told by
 * the pairs of squared errors: by more than twice the standard error of the
 * mean of their differences, else it is a tie.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CALIBRATE_FORECAST_H
#define CALIBRATE_FORECAST_H

#include "calibrate/posterior.h"

/* What needs no model: the last test carried forward, the mean of all earlier
 * tests, and that of the last five of them. */
typedef enum { RIVAL_LAST, RIVAL_MEAN, RIVAL_RECENT, RIVALS } Rival;

typedef struct {
    double error; /* root mean square [test] */
    double ahead; /* mean of its squared errors less the model's [test^2] */
    double noise; /* standard error of that; NAN: fewer than four pairs */
    int better;   /* the model: 1, the rival: -1, a tie: 0 */
} Contest;

typedef struct {
    size_t count;       /* tests predicted: all but the first */
    double *predicted;  /* [test] median of the model's prediction */
    double *low, *high; /* [test] 5 % and 95 % points, noise included */
    double error;       /* root mean square error of the model [test] */
    Contest rival[RIVALS];
    double skill; /* 1 - (error/that of the last test carried forward)^2; NAN
                     when it cannot be told */
} Forecast;

/* `trail` is that of all tests. */
void forecast_run(const TestData *data, Trail *trail, Forecast *forecast);
void forecast_free(Forecast *forecast);

/* Reading of each of `draws` at one step of a timeline [test]. */
void forecast_at(const Draws *draws, const Timeline *timeline, size_t step,
                 ReadWhen when, double *reading);

#endif
