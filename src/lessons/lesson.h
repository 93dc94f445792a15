/* lesson: one lesson while it is made, and what all that make one share.
 *
 * Every number of the words stands in the lesson's table (or its caption), so
 * that it can be read off: lesson_days_row() and its like make a row and give
 * the number as it is shown there.
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

/* What frames the answer, the same for every model. */
typedef struct {
    const char *aim, *belief, *question, *limit;
    const char *speaker; /* notes for who gives the lecture */
} LessonFrame;

/* One lesson while it is made. */
typedef struct {
    const Model *model;
    const ResponseParams *params;
    const Question *question;
    Status *status; /* where a lesson that cannot be made says why */
    double usual;   /* [load/d] */
    Landmarks marks;
    LessonFrame frame;
    bool modelless; /* nothing in it hangs on the model */
    /* The question's answer as a number, in `truth_unit`; NAN: this model has
     * none. */
    double truth;
    const char *truth_unit;
    LessonPicture picture;
    double x[LESSON_POINTS], y[LESSON_CURVES][LESSON_POINTS];
    char name[LESSON_CURVES][80];
    Text words;                  /* the answer */
    Text title, label, subtitle; /* of the picture, where made for it */
    Grid table;                  /* count 0: none */
    GridColumn *columns;
    Text caption;             /* of the table */
    ApproachPicture approach; /* days 0: the picture is the curves */
    double *load, *readiness, *influence; /* of it */
} Lesson;

/* Does the model have fatigue? */
bool lesson_tires(const Lesson *lesson);
/* "units", or what the model's readiness is measured in. */
const char *lesson_unit(const Lesson *lesson);
/* A further curve, `number` (if finite) behind its name; returns its points. */
double *lesson_curve(Lesson *lesson, const char *name, double number);
/* The horizontal axis: days from `from` on. */
void lesson_days(Lesson *lesson, int from, size_t points, const char *label);
/* The question's answer. */
void lesson_truth(Lesson *lesson, double value, const char *unit);

/* A row of the table of figures: what it is, its value with so many digits
 * behind the point ("none" of NAN), its unit. Returns the value as shown. */
const char *lesson_row(Lesson *lesson, const char *what, double value,
                       int digits, const char *unit);
/* The same for readiness, with as many digits as its size calls for. */
const char *lesson_amount(Lesson *lesson, const char *what, double value);
/* The next cell of a table with columns of its own, as readiness; returns it.
 */
const char *lesson_cell(Lesson *lesson, double value);

void lesson_free(Lesson *lesson);

#endif
