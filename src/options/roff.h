/* roff: words for manual pages.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_ROFF_H
#define OPTIONS_ROFF_H

#include <stdio.h>

/* Escapes backslashes and minus signs, and a dot or quote at the beginning. */
void roff_put(FILE *to, const char *text);

#endif
