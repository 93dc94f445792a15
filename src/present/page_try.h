/* page_try: two sliders and a choice on a page, read from a table of values;
 * the one script that a page may have, which its policy names by its hash (W3C,
 * Content Security Policy Level 3) so that no other can run.
 *
 * Without script nothing of it is shown: the table beside it has the values.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_PAGE_TRY_H
#define PRESENT_PAGE_TRY_H

#include "base/text.h"

#include <stdio.h>

/* 'sha256-...' of the script, appended. */
void page_try_policy(Text *policy);

/* The script, as an element; once, behind all that it moves. */
void page_try_script(FILE *to);

/* The sliders, number `number` of the page, of `name`. `values` is JSON:
 *   {"first": 25, "step": 5, "start": [days, cut, shape], "mark": gain,
 *    "given": words, "unit": words, "shapes": [{"name": words, "more": words,
 *    "days": [[[gain, low, high, helps, outside], ...cuts], ...]}]}
 * where a cell is 0 when there is no such taper. */
void page_try(FILE *to, int number, const char *name, const char *values);

#endif
