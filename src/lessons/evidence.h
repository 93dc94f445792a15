/* evidence: lessons on what data can say: one factor or two, a fit against a
 * prediction, regression to the mean, the published tapers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_EVIDENCE_H
#define LESSONS_EVIDENCE_H

#include "lessons/lesson.h"

void evidence_factors(Lesson *lesson);
void evidence_prediction(Lesson *lesson);
void evidence_retest(Lesson *lesson);
void evidence_published(Lesson *lesson);

#endif
