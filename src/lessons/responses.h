/* responses: lessons on what training does to readiness in one model: a
 * session, a steady block, an easy week, what a day's load is worth at the
 * event, who recovers fast, when readiness is read.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_RESPONSES_H
#define LESSONS_RESPONSES_H

#include "lessons/lesson.h"

void responses_equation(Lesson *lesson);
void responses_session(Lesson *lesson);
void responses_steady(Lesson *lesson);
void responses_deload(Lesson *lesson);
void responses_influence(Lesson *lesson);
void responses_recovery(Lesson *lesson);
void responses_reading(Lesson *lesson);
void responses_approach(Lesson *lesson);

#endif
