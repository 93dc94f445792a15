/* rows: what the tests of the ground floor share. Messages are tested for the
 * words that a user needs, not for their full wording.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_BASE_ROWS_H
#define TESTS_BASE_ROWS_H

#include "base/number.h"

#include <stdint.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define BYTES(literal) literal, sizeof(literal) - 1

extern const NumberStyle POINT, COMMA;

/* The same numbers in every run (Knuth's MMIX generator), 0 to 1. */
double next_random(uint64_t *state);

/* Says which row of a test table failed. */
void check_row(bool good, const char *what, const char *row);

bool is_folder(const char *path);

#endif
