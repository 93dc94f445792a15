/* number: numbers read strictly, written so that they read back.
 *
 * Reading accepts digits with one decimal mark, a sign and an exponent, looks
 * at the last character, and refuses what two people could read differently:
 * `1,234` is 1.234 in one country and 1234 in another.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_NUMBER_H
#define BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    bool decimal_comma; /* the file writes 5,5 for five and a half */
} NumberStyle;

/* Reads a finite number; blanks at both ends are passed over. On failure
 * returns false and sets `*wanted` to what was expected, in words. */
bool number_read(const char *text, NumberStyle style, double *value,
                 const char **wanted);

/* Reads a whole number from `low` to `high`, digits only. */
bool number_read_whole(const char *text, long low, long high, long *value);

/* The step of a scale of a few values, such as answers from 1 to 5: the least
 * difference of two, where at most one value in four is a new one; else 0. */
double number_step(const double *value, size_t count);

enum { NUMBER_TEXT = 32 };

/* A number for a CSV cell: 12 significant digits, `.` as decimal mark; a value
 * that is not finite becomes the empty string. Returns `buffer`. */
const char *number_write(char buffer[NUMBER_TEXT], double value);

#endif
