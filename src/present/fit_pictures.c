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
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
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
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
    plot_string(&plot, "unit", p->unit);
    plot_number(&plot, "sigma", p->sigma > 0 ? p->sigma : NAN);
    plot_block(&plot, "residuals");
    for (size_t i = 0; i < p->count; i++) {
        const double row[] = {plot_seconds(p->date[i]), p->residual[i],
                              (double)i + 1};
        plot_row(&plot, row, 3);
    }
    end_block(&plot, p->count, 3);
    return plot_draw(&plot, gallery, "residuals.gp", name, path, status);
}

/* ---- forecast ---- */

StatusCode picture_forecast(const ForecastPicture *p, const Gallery *gallery,
                            const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
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
    return plot_draw(&plot, gallery, "forecast.gp", name, path, status);
}
