/* lesson_picture: a teaching figure, up to eight named curves with marks; how
 * it looks is up to plots/lesson-curves.gp.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_LESSON_PICTURE_H
#define PRESENT_LESSON_PICTURE_H

#include "present/plot.h"

#include <stddef.h>

enum { LESSON_CURVES = 8 };

typedef struct {
    const char *title, *subtitle, *x_label, *y_label;
    size_t curves, points;
    const char *name[LESSON_CURVES];
    const double *x;                /* [points] */
    const double *y[LESSON_CURVES]; /* [points] each */
    double t_n, t_g;                /* on the x axis; NAN: not marked */
    bool shade; /* below and above 0 of the first curve are shaded as what
                   hurts and what helps */
} LessonPicture;

StatusCode picture_lesson(const LessonPicture *picture, const Gallery *gallery,
                          const char *name, Text *path, Status *status);

#endif
