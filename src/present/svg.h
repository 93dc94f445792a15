/* svg: gnuplot's SVGs made smaller, for pages that hold hundreds.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_SVG_H
#define PRESENT_SVG_H

#include "base/text.h"

/* Appends the SVG with the same drawing in about a third of the bytes: numbers
 * of one decimal (two below 10), colours as #rrggbb, no attribute that says
 * what is so anyhow, no empty group, symbol or title of gnuplot's own,
 * neighbouring shapes of one colour as one path. The font is left to the page
 * (page.c names gnuplot's). */
void svg_pack(const char *svg, Text *to);

#endif
