/* tapered: lessons on the last weeks before an event: overload, tapers to one
 * date, what an optimiser makes of a model, fatigue that grows with load.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_TAPERED_H
#define LESSONS_TAPERED_H

#include "lessons/lesson.h"

void tapered_overload(Lesson *lesson);
void tapered_options(Lesson *lesson);
void tapered_optimiser(Lesson *lesson);
void tapered_growth(Lesson *lesson);

#endif
