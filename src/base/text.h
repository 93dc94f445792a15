/* text: growing strings, UTF-8, and text made safe to show.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/* A growing string. All zero is an empty one; `data` may then be NULL. */
typedef struct {
    char *data;
    size_t length, room;
} Text;

void text_add(Text *text, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
void text_put(Text *text, const char *bytes, size_t length);
/* The string so far, never NULL. */
const char *text_of(const Text *text);
void text_clear(Text *text);
void text_free(Text *text);

/* Offset of the first byte that is not valid UTF-8, or `length`. */
size_t utf8_check(const char *bytes, size_t length);

/* Columns a string takes on a terminal: its code points, combining marks and
 * zero-width ones not counted, East Asian wide ones and emoji counted twice. */
size_t utf8_width(const char *text);

/* Bytes of the longest prefix that is at most `columns` wide. */
size_t utf8_fit(const char *text, size_t columns);

/* Appends a text in at most `columns`: one that is longer loses its middle, so
 * that names with the same beginning stay apart ("Anna..idt"); of fewer than 5
 * columns its end. */
void text_shorten(Text *text, const char *whole, size_t columns);

/* Bytes of the first character if it is one that is not to be shown: one that
 * turns the direction of all text behind it (U+202A-202E, U+2066-2069), a
 * control character of Latin-1, U+FFFE, U+FFFF; 0: it is none. */
size_t utf8_unseen(const char *text);

/* Equal but for ASCII letter case. */
bool text_same(const char *a, const char *b);
/* The text without blanks, tabs and no-break spaces at both ends. Returns its
 * start and sets its length; nothing is written. */
const char *text_trim(const char *text, size_t *length);

/* Is it a character that stands for itself and takes one byte? */
static inline bool text_plain(char c) {
    return c > ' ' && c < 0x7F;
}

/* Is there nothing but such blanks? Most cells tell by their first byte. */
static inline bool text_blank(const char *text) {
    size_t length;
    if (*text == '\0' || text_plain(*text))
        return *text == '\0';
    text_trim(text, &length);
    return length == 0;
}

enum { TEXT_EXCERPT = 160 };

/* What to show of a piece of the user's text in a message: in single quotes,
 * what is not to be shown as \xNN, at most 40 code points. Returns `buffer`. */
const char *text_excerpt(char buffer[TEXT_EXCERPT], const char *text);

/* Appends any text, be it a path, words of the command line or of a file, as a
 * terminal may show it on one line: line breaks and tabs become blanks, other
 * control characters and bytes that are not UTF-8 \xNN; marks that turn the
 * direction are left out. All that is printed for people goes through it. */
void text_show(Text *to, const char *text);

/* The same in data for programs: line breaks, tabs and marks stay. */
void text_show_data(Text *to, const char *text);

/* Control characters other than line breaks and tabs? Also those of Latin-1,
 * and U+FFFE and U+FFFF, which XML refuses. */
bool text_has_control(const char *text);

/* Appends a text with `instead(c)` in the place of each byte for which that is
 * not NULL, without what is not to be shown (utf8_unseen). */
void text_escape(Text *to, const char *text, const char *(*instead)(char c));

#endif
