/* trial: see trial.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/trial.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

enum { POINTS = 500, MOST = 1000000, DF_NORMAL = 20000 };

double trial_power(double effect, double n) {
    double df = 2 * n - 2, shift = fabs(effect) * sqrt(n / 2);
    double edge = gsl_cdf_tdist_Qinv(.025, df), sum = 0;
    if (df > DF_NORMAL)
        return gsl_cdf_ugaussian_P(shift - edge);
    for (int i = 0; i < POINTS; i++) {
        double share = (i + .5) / POINTS;
        double spread = sqrt(gsl_cdf_chisq_Pinv(share, df) / df);
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
