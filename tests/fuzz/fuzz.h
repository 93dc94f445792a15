/* fuzz: what the fuzz targets share.
 *
 * A target is one function, called with any bytes; it must neither crash nor
 * leak, and what it asserts must hold for every input. `make fuzz` runs each
 * under libFuzzer (clang) for a while from the seeds in tests/fuzz/seeds;
 * inputs that once failed are kept in tests/fuzz/found and are run again with
 * all seeds by `make check` (replay.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef FUZZ_FUZZ_H
#define FUZZ_FUZZ_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Holds in every build, unlike assert(). */
#define HOLDS(what)                                                            \
    do {                                                                       \
        if (!(what)) {                                                         \
            fprintf(stderr, "%s:%d: %s does not hold\n", __FILE__, __LINE__,   \
                    #what);                                                    \
            abort();                                                           \
        }                                                                      \
    } while (0)

/* The next "== " at or after `at`, which begins a file in an input of several
 * ("== NAME", a line break, its bytes), or the end. */
static inline const char *next_mark(const char *at, const char *end) {
    for (; at + 3 <= end; at++)
        if (memcmp(at, "== ", 3) == 0)
            return at;
    return end;
}

/* The words of a command, one a line, but for those left out; at most so many.
 * Returns how many. */
static inline int split_words(char *lines, bool (*harmless)(const char *word),
                              int most, char **words) {
    char *rest;
    int count = 0;
    for (char *word = strtok_r(lines, "\n", &rest); word && count < most;
         word = strtok_r(NULL, "\n", &rest))
        if (harmless(word))
            words[count++] = word;
    return count;
}

/* Bytes of a character that nobody is shown: C1 controls, marks that turn
 * the direction of all that follows, and U+FFFE and U+FFFF. */
static inline size_t left_out(const char *text) {
    const unsigned char *s = (const unsigned char *)text;
    unsigned long code;
    if (s[0] == 0xC2 && s[1] >= 0x80 && s[1] < 0xA0)
        return 2;
    if (s[0] < 0xE0 || s[0] > 0xEF || (s[1] & 0xC0) != 0x80 ||
        (s[2] & 0xC0) != 0x80)
        return 0;
    code = (s[0] & 0xFUL) << 12 | (s[1] & 0x3FUL) << 6 | (s[2] & 0x3FUL);
    return (code >= 0x202A && code <= 0x202E) ||
                   (code >= 0x2066 && code <= 0x2069) || code >= 0xFFFE
               ? 3
               : 0;
}

#endif
