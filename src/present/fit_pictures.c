/* fit_pictures: see fit_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/fit_pictures.h"

#include "base/mem.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* gnuplot warns of a block without rows. */
static void end_block(Plot *plot, size_t rows, int columns) {
    static const double missing[] = {NAN, NAN, NAN, NAN, NAN, NAN};
    if (rows == 0)
        plot_row(plot, missing, columns);
    plot_block_end(plot);
}

/* ---- posterior ---- */

static bool on_log_axes(double x, double y) {
    return isfinite(x) && isfinite(y) && x > 0 && y > 0;
}

static void cloud_words(Plot *plot, const char *cloud, const char *tau,
                        const double *sorted, size_t count) {
    const char *when =
        strcmp(cloud, "prior") == 0 ? "before the tests" : "after the tests";
    if (count)
        text_add(&plot->alt, "%s %s: %.3g days, 90 %% range %.3g to %.3g. ",
                 tau, when, gsl_stats_median_from_sorted_data(sorted, 1, count),
                 gsl_stats_quantile_from_sorted_data(sorted, 1, count, .05),
                 gsl_stats_quantile_from_sorted_data(sorted, 1, count, .95));
}

/* CLOUD_TAU_low, _middle and _high; reorders the values. */
static void cloud_interval(Plot *plot, const char *cloud, const char *tau,
                           double *value, size_t count) {
    static const char *const point[] = {"low", "middle", "high"};
    static const double share[] = {.05, .5, .95};
    char variable[64];
    gsl_sort(value, 1, count);
    for (int i = 0; i < 3; i++) {
        snprintf(variable, sizeof variable, "%s_%s_%s", cloud, tau, point[i]);
        plot_number(plot, variable,
                    count ? gsl_stats_quantile_from_sorted_data(value, 1, count,
                                                                share[i])
                          : NAN);
    }
    cloud_words(plot, cloud, tau, value, count);
}

/* The block $CLOUD, how many points it has and where most of them are. */
static void posterior_cloud(Plot *plot, const char *cloud, const double *tau1,
                            const double *tau2, size_t draws) {
    double *x = mem_new(draws, sizeof *x), *y = mem_new(draws, sizeof *y);
    size_t count = 0;
    char variable[64];
    plot_block(plot, cloud);
    for (size_t i = 0; i < draws; i++) {
        const double row[] = {tau1[i], tau2[i]};
        if (!on_log_axes(tau1[i], tau2[i]))
            continue;
        plot_row(plot, row, 2);
        x[count] = tau1[i];
        y[count++] = tau2[i];
    }
    end_block(plot, count, 2);
    snprintf(variable, sizeof variable, "%s_count", cloud);
    plot_number(plot, variable, (double)count);
    cloud_interval(plot, cloud, "tau1", x, count);
    cloud_interval(plot, cloud, "tau2", y, count);
    free(x);
    free(y);
}

StatusCode picture_posterior(const PosteriorPicture *p, const Gallery *gallery,
                             const char *name, Text *path, Status *status) {
    Plot plot = {0};
    bool has_best = on_log_axes(p->best_tau1, p->best_tau2);
    plot_start(&plot, p->title, p->subtitle);
    text_add(&plot.alt, "Likely models as points, by how slowly fitness (tau1) "
                        "and fatigue (tau2) fade. ");
    plot_number(&plot, "best_tau1", has_best ? p->best_tau1 : NAN);
    plot_number(&plot, "best_tau2", has_best ? p->best_tau2 : NAN);
    posterior_cloud(&plot, "prior", p->prior_tau1, p->prior_tau2,
                    p->prior_draws);
    posterior_cloud(&plot, "posterior", p->tau1, p->tau2, p->draws);
    return plot_draw(&plot, gallery, "posterior.gp", name, path, status);
}

/* ---- residuals ---- */

StatusCode picture_residuals(const ResidualsPicture *p, const Gallery *gallery,
                             const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_start(&plot, p->title, p->subtitle);
    plot_string(&plot, "unit", p->unit);
    plot_number(&plot, "sigma", p->sigma > 0 ? p->sigma : NAN);
    plot_block(&plot, "residuals");
    for (size_t i = 0; i < p->count; i++) {
        const double row[] = {plot_seconds(p->date[i]), p->residual[i],
                              (double)i + 1};
        plot_row(&plot, row, 3);
    }
    end_block(&plot, p->count, 3);
    text_add(&plot.alt,
             "What the fit leaves of each of %zu tests, by date and in order, "
             "in %s. ",
             p->count, p->unit);
    plot_alt_line(&plot, "It", p->residual, p->count, 1);
    return plot_draw(&plot, gallery, "residuals.gp", name, path, status);
}

/* ---- forecast ---- */

static void forecast_words(Plot *plot, const ForecastPicture *p) {
    size_t within = 0;
    for (size_t i = 0; i < p->count; i++)
        within += p->outcome[i] >= p->low[i] && p->outcome[i] <= p->high[i];
    text_add(&plot->alt,
             "%zu tests as points, in %s, beside what was forecast from the "
             "earlier ones with its range, and the test before; %zu of them "
             "lie within the range. ",
             p->count, p->unit, within);
}

StatusCode picture_forecast(const ForecastPicture *p, const Gallery *gallery,
                            const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_start(&plot, p->title, p->subtitle);
    plot_string(&plot, "unit", p->unit);
    plot_block(&plot, "forecast");
    for (size_t i = 0; i < p->count; i++) {
        const double row[] = {plot_seconds(p->date[i]),
                              p->outcome[i],
                              p->predicted[i],
                              p->low[i],
                              p->high[i],
                              p->last[i]};
        plot_row(&plot, row, 6);
    }
    end_block(&plot, p->count, 6);
    forecast_words(&plot, p);
    return plot_draw(&plot, gallery, "forecast.gp", name, path, status);
}
