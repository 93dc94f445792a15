/* roff: see roff.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/roff.h"

#include "base/text.h"

/* A backslash, and a minus that shall be one. */
static const char *escape(char c) {
    return c == '\\' ? "\\e" : c == '-' ? "\\-" : NULL;
}

void roff_put(FILE *to, const char *text) {
    Text escaped = {0};
    if (*text == '.' || *text == '\'')
        fputs("\\&", to);
    text_escape(&escaped, text, escape);
    fputs(text_of(&escaped), to);
    text_free(&escaped);
}
