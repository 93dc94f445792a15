/* option_pictures: see option_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/option_pictures.h"

#include "base/mem.h"

#include <stdlib.h>

static void comparison_start(Plot *plot, const ComparisonPicture *p) {
    plot_start(plot, p->title, p->subtitle);
    plot_string(plot, "readiness_label", p->readiness_label);
    plot_number(plot, "options_count", (double)p->options);
    plot_number(plot, "event_from", 0);
    plot_number(plot, "event_to", p->event_days - 1);
    plot_strings(plot, "option_name", p->names, p->options);
}

StatusCode picture_comparison(const ComparisonPicture *p,
                              const Gallery *gallery, const char *name,
                              Text *path, Status *status) {
    Plot plot = {0};
    double *row = mem_new(p->options + 1, sizeof *row);
    comparison_start(&plot, p);
    plot_block(&plot, "curves");
    for (size_t d = 0; d < p->days; d++) {
        row[0] = p->first_offset + (double)d;
        for (size_t i = 0; i < p->options; i++)
            row[i + 1] = p->readiness[d * p->options + i];
        plot_row(&plot, row, (int)p->options + 1);
    }
    plot_block_end(&plot);
    free(row);
    text_add(&plot.alt,
             "Readiness by day as lines, from %d days before the event. ",
             -p->first_offset);
    for (size_t i = 0; i < p->options; i++)
        plot_alt_line(&plot, p->names[i], p->readiness + i, p->days,
                      p->options);
    return plot_draw(&plot, gallery, "comparison.gp", name, path, status);
}

StatusCode picture_fan(const FanPicture *p, const Gallery *gallery,
                       const char *name, Text *path, Status *status) {
    const ComparisonPicture *of = &p->of;
    Plot plot = {0};
    double row[1 + 3 * FAN_MOST];
    comparison_start(&plot, of);
    plot_strings(&plot, "option_words", p->words, of->options);
    plot_block(&plot, "fan");
    for (size_t d = 0; d < of->days; d++) {
        row[0] = of->first_offset + (double)d;
        for (size_t i = 0; i < of->options; i++) {
            row[3 * i + 1] = of->readiness[d * of->options + i];
            row[3 * i + 2] = p->low[d * of->options + i];
            row[3 * i + 3] = p->high[d * of->options + i];
        }
        plot_row(&plot, row, 3 * (int)of->options + 1);
    }
    plot_block_end(&plot);
    text_add(&plot.alt,
             "Readiness by day with its 90 %% range, a panel for each "
             "taper; on the event's first day: ");
    for (size_t i = 0; i < of->options; i++)
        text_add(&plot.alt, "%s%s %s", i ? "; " : "", of->names[i],
                 p->words[i]);
    text_add(&plot.alt, ". ");
    return plot_draw(&plot, gallery, "fan.gp", name, path, status);
}
