/* calendar_names: weekdays as people write them, in the commoner
 * languages of Europe.
 *
 * Letter case, a closing dot and the Unicode form of accents do not matter
 * (libunistring). English rules, being the language of the files; else a word
 * that two languages use for different days ("mar" is no Tuesday in all of
 * them) is refused, never guessed.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_CALENDAR_NAMES_H
#define BASE_CALENDAR_NAMES_H

#include "base/text.h"

/* The weekday, 0 Monday ... 6 Sunday. When it is none, false, and `why` says
 * what was expected, as the end of a sentence that begins "expected ". */
bool calendar_weekday(const char *word, int *weekday, Text *why);

#endif
