/* compare_text: options side by side, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_COMPARE_TEXT_H
#define OUTPUT_COMPARE_TEXT_H

#include "answers/comparison.h"
#include "output/output.h"
#include "present/document.h"

void compare_text_csv_header(const Output *o);

void compare_text_csv(const Comparison *k, FILE *to);

void compare_text(const Context *context, const Comparison *k, size_t count,
                  Document *doc);

#endif
