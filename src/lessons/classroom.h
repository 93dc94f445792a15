/* classroom: what a class answered to a lesson's question, against the answer
 * of the model.
 *
 * The file: student, answer (a number; blank: none given), a row each.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_CLASSROOM_H
#define LESSONS_CLASSROOM_H

#include "base/status.h"
#include "lessons/lesson.h"
#include "present/plot.h"

#include <stdio.h>

enum { CLASSROOM_MOST = 200 /* students */ };

typedef struct {
    char *student;
    double answer;
} ClassroomAnswer;

/* By rising answer. */
typedef struct {
    ClassroomAnswer *items;
    size_t count, room;
    size_t blank; /* rows without an answer */
} Classroom;

/* Reads the file; what is wrong with it is among the notes. To be freed in any
 * case. */
void classroom_read(const char *path, Classroom *class, Notes *notes);
void classroom_free(Classroom *class);

/* Fails where the lesson's question has no number as its answer under the model
 * in use. */
StatusCode classroom_judge(const Lesson *lesson, const char *name,
                           Status *status);
void classroom_print(const Classroom *class, const Lesson *lesson, FILE *to);
/* student,answer,truth,error,unit */
void classroom_csv(const Classroom *class, const Lesson *lesson, FILE *to);
StatusCode classroom_picture(const Classroom *class, const Lesson *lesson,
                             const Gallery *gallery, const char *name,
                             Text *path, Status *status);

#endif
