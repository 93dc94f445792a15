/* squad_pictures: see squad_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/squad_pictures.h"

#include <math.h>

static void put_names(Plot *plot, const char *what, const char *const *names,
                      size_t count) {
    for (size_t i = 0; i < count; i++)
        plot_nth_string(plot, what, i, names[i]);
}

static void losses_words(Plot *plot, const LossesPicture *p) {
    text_add(&plot->alt,
             "Table of %zu athletes by %zu tapers: gain lost against the "
             "athlete's own best, in %%; the assigned taper is framed. "
             "Assigned: ",
             p->rows, p->columns);
    for (size_t i = 0; i < p->rows; i++) {
        double loss = p->loss[i * p->columns + p->given[i]];
        text_add(&plot->alt, "%s%s, %s", i ? "; " : "", p->athletes[i],
                 p->plans[p->given[i]]);
        if (isfinite(loss))
            text_add(&plot->alt, " loses %.0f %%", 100 * loss);
    }
    text_add(&plot->alt, ". ");
}

StatusCode picture_losses(const LossesPicture *p, const Gallery *gallery,
                          const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
    plot_number(&plot, "rows_count", (double)p->rows);
    plot_number(&plot, "columns_count", (double)p->columns);
    plot_number(&plot, "common_count", (double)p->common);
    put_names(&plot, "row_name", p->athletes, p->rows);
    put_names(&plot, "column_name", p->plans, p->columns);
    plot_block(&plot, "cells");
    for (size_t i = 0; i < p->rows; i++)
        for (size_t k = 0; k < p->columns; k++) {
            size_t cell = i * p->columns + k;
            const double row[] = {(double)k + 1, (double)i + 1, p->loss[cell],
                                  p->possible[cell], p->given[i] == k};
            plot_row(&plot, row, 5);
        }
    plot_block_end(&plot);
    losses_words(&plot, p);
    return plot_draw(&plot, gallery, "losses.gp", name, path, status);
}

StatusCode picture_fan(const FanPicture *p, const Gallery *gallery,
                       const char *name, Text *path, Status *status) {
    Plot plot = {0};
    double row[1 + 3 * FAN_MOST];
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
    plot_string(&plot, "readiness_label", p->readiness_label);
    plot_number(&plot, "options_count", (double)p->options);
    plot_number(&plot, "event_from", 0);
    plot_number(&plot, "event_to", p->event_days - 1);
    put_names(&plot, "option_name", p->names, p->options);
    put_names(&plot, "option_words", p->words, p->options);
    plot_block(&plot, "fan");
    for (size_t d = 0; d < p->days; d++) {
        row[0] = p->first_offset + (double)d;
        for (size_t i = 0; i < p->options; i++) {
            row[3 * i + 1] = p->readiness[d * p->options + i];
            row[3 * i + 2] = p->low[d * p->options + i];
            row[3 * i + 3] = p->high[d * p->options + i];
        }
        plot_row(&plot, row, 3 * (int)p->options + 1);
    }
    plot_block_end(&plot);
    text_add(&plot.alt,
             "Readiness by day with its 90 %% range, a panel for each "
             "taper; on the event's first day: ");
    for (size_t i = 0; i < p->options; i++)
        text_add(&plot.alt, "%s%s %s", i ? "; " : "", p->names[i], p->words[i]);
    text_add(&plot.alt, ". ");
    return plot_draw(&plot, gallery, "fan.gp", name, path, status);
}
