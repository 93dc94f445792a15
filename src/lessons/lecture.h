/* lecture: the lessons as one page for a projector: a screen a lesson without
 * scrolling, the picture and the answer shown step by step, keys, the film,
 * notes for the speaker; two lessons a sheet of paper.
 *
 * Without script all is shown, one lesson below the other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_LECTURE_H
#define LESSONS_LECTURE_H

#include "lessons/lessons.h"
#include "present/page.h"

/* Up to the first lesson: title, `words` about the model, contents. */
void lecture_begin(Page *page, FILE *to, const char *words);
/* A lesson with its picture (an SVG file) and, if not NULL, its film (a GIF
 * file). */
StatusCode lecture_slide(Page *page, const LessonRule *rule,
                         const Lesson *lesson, const char *picture,
                         const char *film, Status *status);
void lecture_end(Page *page);

#endif
