/* stream: see stream.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#define _GNU_SOURCE /* fopencookie(), which POSIX has no name for */
#include "base/stream.h"

#include "base/mem.h"

static ssize_t take(void *to, const char *bytes, size_t length) {
    text_put(to, bytes, length);
    return (ssize_t)length;
}

FILE *stream_open(Text *text) {
    FILE *stream =
        fopencookie(text, "w", (cookie_io_functions_t){.write = take});
    if (!stream)
        mem_out();
    text_put(text, "", 0); /* a string from the beginning */
    return stream;
}
