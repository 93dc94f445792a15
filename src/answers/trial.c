/* trial: see trial.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/trial.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

enum { POINTS = 500, MOST = 1000000, DF_LARGE = 200 };

/* Quantile of chi-squared over its degrees of freedom. Where these are many
 * GSL's own does not always converge, and Wilson and Hilferty's cube (1931) is
 * right to a part in 4,000 at most. */
static double mean_square(double share, double df) {
    double part = 2 / (9 * df);
    if (df <= DF_LARGE)
        return gsl_cdf_chisq_Pinv(share, df) / df;
    return pow(1 - part + gsl_cdf_ugaussian_Pinv(share) * sqrt(part), 3);
}

double trial_power(double effect, double n) {
    double df = 2 * n - 2, shift = fabs(effect) * sqrt(n / 2);
    double edge = gsl_cdf_tdist_Qinv(.025, df), sum = 0;
    for (int i = 0; i < POINTS; i++) {
        double spread = sqrt(mean_square((i + .5) / POINTS, df));
        sum += gsl_cdf_ugaussian_P(shift - edge * spread);
    }
    return sum / POINTS;
}

double trial_size(double effect, double power) {
    double low = 1, high = MOST;
    if (!(trial_power(effect, high) >= power))
        return NAN;
    while (high - low > 1) {
        double middle = floor((low + high) / 2);
        if (trial_power(effect, middle) >= power)
            high = middle;
        else
            low = middle;
    }
    return high;
}
