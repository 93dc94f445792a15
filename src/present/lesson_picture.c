/* lesson_picture: see lesson_picture.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/lesson_picture.h"

#include <stdio.h>

StatusCode picture_lesson(const LessonPicture *p, const Gallery *gallery,
                          const char *name, Text *path, Status *status) {
    Plot plot = {0};
    char variable[32];
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
    plot_string(&plot, "x_label", p->x_label);
    plot_string(&plot, "y_label", p->y_label);
    plot_number(&plot, "t_n", p->t_n);
    plot_number(&plot, "t_g", p->t_g);
    plot_number(&plot, "shade", p->shade);
    plot_number(&plot, "curves_count", (double)p->curves);
    for (size_t k = 0; k < p->curves; k++) {
        snprintf(variable, sizeof variable, "curve_name_%zu", k + 1);
        plot_string(&plot, variable, p->name[k]);
    }
    plot_block(&plot, "curves");
    for (size_t i = 0; i < p->points; i++) {
        double row[LESSON_CURVES + 1] = {p->x[i]};
        for (size_t k = 0; k < p->curves; k++)
            row[k + 1] = p->y[k][i];
        plot_row(&plot, row, (int)p->curves + 1);
    }
    plot_block_end(&plot);
    return plot_draw(&plot, gallery, "lesson-curves.gp", name, path, status);
}
