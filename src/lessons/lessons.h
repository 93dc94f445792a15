/* lessons: the lessons: aim, what is often believed, a question to answer
 * first, the picture, the answer from the model in use, its limit.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_LESSONS_H
#define LESSONS_LESSONS_H

#include "lessons/lesson.h"

#include <stdio.h>

typedef struct {
    const char *name, *title;
    void (*make)(Lesson *);
    LessonFrame frame;
} LessonRule;

/* Ends with a NULL name. */
extern const LessonRule lesson_rules[];

/* The lesson of a name; NULL: there is none. */
const LessonRule *lesson_find(const char *name);

/* Computes a lesson. To be freed with lesson_free() in any case; `model` and
 * `question` must outlive it. */
StatusCode lesson_make(const LessonRule *rule, const Model *model,
                       const Question *question, Lesson *lesson,
                       Status *status);

/* As text, without the notes for the speaker. */
void lesson_print(const Lesson *lesson, FILE *to);

#endif
