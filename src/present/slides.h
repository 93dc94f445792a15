/* slides: a lecture page in HTML, one lesson a slide, printable, with its
 * pictures inside it and nothing fetched. Every text is escaped.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_SLIDES_H
#define PRESENT_SLIDES_H

#include "base/text.h"

#include <stddef.h>

typedef struct {
    const char *title, *words;
    const char *alt;     /* what the picture shows, for who cannot see it */
    const char *caption; /* under the picture */
    const char *svg;     /* the picture's bytes; NULL: words alone */
    size_t svg_length;
} Slide;

void slides_begin(Text *page, const char *title, const char *subtitle);
void slides_add(Text *page, const Slide *slide);
void slides_end(Text *page);

#endif
