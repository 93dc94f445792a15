/* five_tests: why five tests cannot pin the parameters.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_FIVE_TESTS_H
#define LESSONS_FIVE_TESTS_H

#include "lessons/lesson.h"

void bundle_lesson(Lesson *lesson);

#endif
