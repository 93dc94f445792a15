/* alike: names that most likely mean the same athlete.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_ALIKE_H
#define SEASON_ALIKE_H

#include "base/text.h"

/* Puts what two spellings of a name have in common: its letters and digits,
 * case folded, in Unicode normal form NFKC, without blanks, signs, and
 * invisible characters (Unicode Standard Annex #15, and chapter 3.13 for case;
 * computed by libunistring). Names without letters and digits stand for
 * themselves. Bytes that are no UTF-8 are left out. */
void alike_key(Text *key, const char *name);

/* Different names with the same key. */
bool alike_names(const char *a, const char *b);

#endif
