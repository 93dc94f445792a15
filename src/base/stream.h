/* stream: a stream into memory that loses nothing.
 *
 * open_memstream() of glibc drops what there is no memory for, and neither
 * ferror() nor fclose() says so. Here memory that is out ends the program, as
 * it does elsewhere (mem.h).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_STREAM_H
#define BASE_STREAM_H

#include "base/text.h"

#include <stdio.h>

/* What is written is appended to the text, all of it once the stream is flushed
 * or closed. The text must outlive the stream. */
FILE *stream_open(Text *text);

#endif
