/* near: see near.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/near.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
}

size_t near_distance(const char *a, const char *b) {
    size_t length = strnlen(b, NEAR_MOST), row[NEAR_MOST + 1];
    for (size_t k = 0; k <= length; k++)
        row[k] = k;
    for (size_t i = 0; i < NEAR_MOST && a[i]; i++) {
        size_t corner = row[0]++;
        for (size_t k = 1; k <= length; k++) {
            size_t change = corner + (a[i] != b[k - 1]);
            corner = row[k];
            row[k] = least(change, least(row[k], row[k - 1]) + 1);
        }
    }
    return row[length];
}

/* The letters and digits of a text until one that is neither, or with `all` all
 * of them; returns where it stopped. */
static const char *letters(const char *text, bool all, char to[NEAR_MOST + 1]) {
    size_t length = 0;
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        bool letter = isalnum(c) || c >= 0x80;
        if (!letter && !all)
            break;
        if (letter && length < NEAR_MOST)
            to[length++] = (char)tolower(c);
    }
    to[length] = '\0';
    return text;
}

static double share(const char *word, const char *name) {
    size_t a = strlen(word), b = strlen(name), longer = a > b ? a : b;
    double part =
        longer ? (double)near_distance(word, name) / (double)longer : INFINITY;
    return part <= NEAR_ENOUGH ? part : INFINITY;
}

double near_share(const char *words, const char *name) {
    char word[NEAR_MOST + 1], wanted[NEAR_MOST + 1];
    double nearest;
    letters(name, true, wanted);
    letters(words, true, word);
    nearest = share(word, wanted);
    while (*words) {
        words = letters(words, false, word);
        nearest = fmin(nearest, share(word, wanted));
        words += *words != '\0';
    }
    return nearest;
}
