/* blocks_text: two ways through the weeks to come, as text and as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_BLOCKS_TEXT_H
#define OUTPUT_BLOCKS_TEXT_H

#include "answers/blocks_compared.h"
#include "output/output.h"
#include "present/document.h"

/* `path` is the other file, as given. */
void blocks_text(const Context *context, const BlocksCompared *each,
                 size_t count, const char *path, Document *doc);

void blocks_text_csv(const BlocksCompared *each, size_t count, const char *path,
                     const Output *o);

#endif
