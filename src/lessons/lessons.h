/* lessons: the lessons: each makes the curves of its picture and the words that
 * explain them, all from the model in use.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_LESSONS_H
#define LESSONS_LESSONS_H

#include "lessons/lesson.h"

typedef struct {
    const char *name, *title;
    void (*make)(Lesson *);
} LessonRule;

/* Ends with a NULL name. */
extern const LessonRule lesson_rules[];

/* Computes a lesson. To be freed with lesson_free() in any case; `model` and
 * `question` must outlive it. */
StatusCode lesson_make(const LessonRule *rule, const Model *model,
                       const Question *question, Lesson *lesson,
                       Status *status);

#endif
