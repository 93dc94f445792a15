/* worksheet: questions for a class, each student's numbers drawn about the
 * model in use, and a separate answer key computed by the kernel.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_WORKSHEET_H
#define COMMANDS_WORKSHEET_H

#include "base/text.h"
#include "response/params.h"

/* Appends the slides of `sheets` students to both pages (slides_begin() and
 * slides_end() are the caller's). The same seed gives the same sheets. */
void worksheet_write(const ResponseParams *params, int sheets,
                     unsigned long seed, Text *questions, Text *answers);

#endif
