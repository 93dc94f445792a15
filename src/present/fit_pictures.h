/* fit_pictures: what the pictures of a fit show, as values; how they look is up
 * to plots/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_FIT_PICTURES_H
#define PRESENT_FIT_PICTURES_H

#include "base/date.h"
#include "present/plot.h"

#include <stddef.h>

/* Draws that are not finite or not above zero are left out. */
typedef struct {
    const char *title, *subtitle;
    const double *tau1, *tau2; /* [d] of the draws, given the tests */
    size_t draws;
    const double *prior_tau1, *prior_tau2; /* [d] */
    size_t prior_draws;
    double best_tau1, best_tau2; /* [d] NAN: no best fit */
} PosteriorPicture;

/* The time constants, before and after the tests. */
StatusCode picture_posterior(const PosteriorPicture *picture,
                             const Gallery *gallery, const char *name,
                             Text *path, Status *status);

typedef struct {
    const char *title, *subtitle;
    const char *unit;       /* of a test */
    const Date *date;       /* in order */
    const double *residual; /* [test] outcome less fit */
    size_t count;
    double sigma; /* [test] residual SD; NAN: no band */
} ResidualsPicture;

/* What the fit leaves of each test, by date and in order. */
StatusCode picture_residuals(const ResidualsPicture *picture,
                             const Gallery *gallery, const char *name,
                             Text *path, Status *status);

typedef struct {
    const char *title, *subtitle;
    const char *unit; /* of a test */
    const Date *date; /* in order; of the tests that are predicted */
    const double *outcome, *predicted, *low, *high, *last; /* [test] */
    size_t count;
} ForecastPicture;

/* Each test beside what was predicted of it from the earlier ones, and the test
 * before it. */
StatusCode picture_forecast(const ForecastPicture *picture,
                            const Gallery *gallery, const char *name,
                            Text *path, Status *status);

#endif
