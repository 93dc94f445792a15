/* lesson: one lesson while it is made, and what all that make one share.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_LESSON_H
#define LESSONS_LESSON_H

#include "cases/question.h"
#include "lessons/picture.h"
#include "present/grid.h"
#include "response/landmarks.h"

enum { LESSON_POINTS = 200 };

/* One lesson while it is made. */
typedef struct {
    const Model *model;
    const ResponseParams *params;
    const Question *question;
    Status *status; /* where a lesson that cannot be made says why */
    double usual;   /* [load/d] */
    Landmarks marks;
    LessonPicture picture;
    double x[LESSON_POINTS], y[LESSON_CURVES][LESSON_POINTS];
    char name[LESSON_CURVES][80];
    Text words;
    Text title, label, subtitle; /* of the picture, where made for it */
    Grid table;                  /* count 0: none */
    GridColumn *columns;
    Text caption;             /* of the table */
    ApproachPicture approach; /* days 0: the picture is the curves */
    double *load, *readiness, *influence; /* of it */
} Lesson;

/* Does the model have fatigue? */
bool lesson_tires(const Lesson *lesson);
/* A further curve, `number` (if finite) behind its name; returns its points. */
double *lesson_curve(Lesson *lesson, const char *name, double number);
/* The horizontal axis: days from `from` on. */
void lesson_days(Lesson *lesson, int from, size_t points, const char *label);
/* Adds words and a figure behind them. */
void lesson_say(Lesson *lesson, const char *words, double value);

void lesson_free(Lesson *lesson);

#endif
