/* near: which of some words another one most likely means: "minuts" minutes,
 * "Datum" date. Letter case and signs do not count; for suggestions only.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_NEAR_H
#define BASE_NEAR_H

#include <stdbool.h>
#include <stddef.h>

/* Bytes to put in, leave out or change to make one word of the other, at most
 * NEAR_MOST of each looked at (Levenshtein 1966, Soviet Physics Doklady
 * 10:707-710; algorithm of Wagner, Fischer 1974, J ACM 21:168-173). */
enum { NEAR_MOST = 64 };
size_t near_distance(const char *a, const char *b);

/* How far a word, or one of several in a heading, is from a name, as a share of
 * the longer one's letters; INFINITY when over NEAR_ENOUGH. */
#define NEAR_ENOUGH 0.4
double near_share(const char *words, const char *name);

#endif
