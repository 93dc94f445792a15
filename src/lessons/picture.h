/* picture: teaching figures: up to eight named curves with marks, and
 * load bars under a sliding influence curve; how they look is up to
 * plots/lesson-curves.gp, plots/lesson-rows.gp and plots/lesson-approach.gp.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_PICTURE_H
#define LESSONS_PICTURE_H

#include "present/plot.h"

#include <stddef.h>
#include <stdio.h>

enum { LESSON_CURVES = 8, LESSON_MARKS = 12, LESSON_ROWS = 12 };

typedef struct {
    const char *title, *subtitle, *x_label, *y_label;
    size_t curves, points;
    const char *name[LESSON_CURVES];
    const double *x;                /* [points] */
    const double *y[LESSON_CURVES]; /* [points] each */
    double t_n, t_g;                /* on the x axis; NAN: not marked */
    bool shade; /* below and above 0 of the first curve are shaded as what
                   hurts and what helps */
    size_t points_marked; /* 0: none */
    const char *mark_name;
    double mark_error; /* of each, up and down */
    double mark_x[LESSON_MARKS], mark_y[LESSON_MARKS];
    /* Rows of one estimate each instead of curves: the curves are estimate,
     * low and high, x counts rows, whose names these are. */
    bool forest;
    const char *row[LESSON_ROWS];
} LessonPicture;

StatusCode picture_lesson(const LessonPicture *picture, const Gallery *gallery,
                          const char *name, Text *path, Status *status);

/* Daily loads up to the event, which is the last day, and what they do to
 * readiness as it comes nearer. */
typedef struct {
    const char *title, *subtitle;
    size_t days; /* the event's day included, whose load is 0 */
    int from;    /* [d] before the event that the first frame looks at */
    const double *load, *readiness; /* [days] */
    const double *influence;        /* [days] by age, influence[0] unused */
} ApproachPicture;

/* Three days of it one above the other; with PICTURE_GIF a frame a day. */
StatusCode picture_approach(const ApproachPicture *picture,
                            const Gallery *gallery, const char *name,
                            Text *path, Status *status);

/* The same as CSV: lesson,series,x,y,error,x_label,y_label,row, a row a point.
 * `error`, up and down, is that of the marked points; t_n and t_g are series of
 * one point without y; `row` names an estimate. */
void picture_csv_header(FILE *to);
void picture_lesson_csv(const LessonPicture *picture, const char *lesson,
                        FILE *to);
void picture_approach_csv(const ApproachPicture *picture, const char *lesson,
                          FILE *to);

#endif
