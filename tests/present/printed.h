/* printed: what a function prints into a stream, as text.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_PRESENT_PRINTED_H
#define TESTS_PRESENT_PRINTED_H

#include <stdio.h>

/* What a function prints into a stream, to be freed. */
char *printed(void (*print)(FILE *));

#endif
