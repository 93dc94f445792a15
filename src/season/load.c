/* load: see load.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/load.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

const char *const load_method_names[] = {"load",  "session-rpe", "trimp",
                                         "zones", "volume",      NULL};

const char *load_method_unit(LoadMethod method) {
    static const char *const units[] = {
        "load as given in the log",
        "session-RPE (minutes x RPE)",
        "heart-rate TRIMP (minutes, weighted)",
        "heart-rate zones (minutes x zone)",
        "volume load (kg)",
        "load",
    };
    return units[method];
}

double load_session_rpe(double minutes, double rating) {
    return minutes * rating;
}

double load_trimp(double minutes, double hr_mean, HeartProfile p) {
    double x = (hr_mean - p.hr_rest) / (p.hr_max - p.hr_rest);
    double y = p.female ? .86 * exp(1.67 * x) : .64 * exp(1.92 * x);
    if (!(x >= 0 && x <= 1))
        return NAN;
    return minutes * x * y;
}

double load_zones(const double minutes[5]) {
    double sum = 0;
    for (int i = 0; i < 5; i++)
        sum += (i + 1) * minutes[i];
    return sum;
}

double load_volume(double sets, double reps, double kg) {
    return sets * reps * kg;
}

double load_monotony(const double day[7]) {
    double mean = gsl_stats_mean(day, 1, 7);
    double sd = gsl_stats_sd_m(day, 1, 7, mean);
    if (!isfinite(mean) || !(sd > 1e-9 * fabs(mean)))
        return NAN;
    return mean / sd;
}

double load_strain(const double day[7]) {
    return 7 * gsl_stats_mean(day, 1, 7) * load_monotony(day);
}

double load_median(double *values, size_t count) {
    if (count == 0)
        return NAN;
    return gsl_stats_median(values, 1, count);
}
