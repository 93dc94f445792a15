/* squad_pictures: see squad_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/squad_pictures.h"

#include <math.h>

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
    plot_start(&plot, p->title, p->subtitle);
    plot_number(&plot, "rows_count", (double)p->rows);
    plot_number(&plot, "columns_count", (double)p->columns);
    plot_number(&plot, "common_count", (double)p->common);
    plot_strings(&plot, "row_name", p->athletes, p->rows);
    plot_strings(&plot, "column_name", p->plans, p->columns);
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
