/* costs: what each limit costs: the best gain with it moved or lifted.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_COSTS_H
#define COMMANDS_COSTS_H

#include "commands/verdict.h"

/* "WORDS would bring 12 % more gain.", appended, if so. */
void costs_moved(const Verdict *v, Limits moved, const char *words, Text *text);

/* The same for every limit given that ties days together or keeps sessions:
 * what it asks and what it costs, appended. */
void costs_given(const Verdict *v, Text *text);

#endif
