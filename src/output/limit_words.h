/* limit_words: what each limit costs, in words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_LIMIT_WORDS_H
#define OUTPUT_LIMIT_WORDS_H

#include "answers/best_taper.h"

/* "WORDS would bring 12 % more gain.", appended, if so. */
void limit_words_moved(const BestTaper *v, Limits moved, const char *words,
                       Text *text);

/* The same for every limit given that ties days together or keeps sessions:
 * what it asks and what it costs, appended. */
void limit_words_given(const BestTaper *v, Text *text);

#endif
