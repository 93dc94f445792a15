/* bundle_lesson: why five tests cannot pin five parameters.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_BUNDLE_LESSON_H
#define COMMANDS_BUNDLE_LESSON_H

#include "commands/lecture.h"

void bundle_lesson(Lesson *lesson);

#endif
