/* topics: longer texts that belong to no one command, as `help files` prints
 * them and as manual pages (man(7) roff), both from data/help/NAME.md.
 *
 * Such a text is the little of Markdown that reads well as it is: `# ` and `##
 * ` headings, paragraphs, items that begin with `- `, and lines indented by
 * four blanks that are shown as they stand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_TOPICS_H
#define OPTIONS_TOPICS_H

#include "base/status.h"

#include <stdbool.h>
#include <stdio.h>

typedef struct {
    const char *name;  /* as in `help NAME` */
    const char *about; /* one line */
    int section;       /* of the manual: 5 files, 7 other things */
} Topic;

/* NULL when there is no topic of that name. */
const Topic *topics_find(const char *name);
/* The topics by number; NULL behind the last. */
const Topic *topics_at(size_t index);

/* Fails when the text cannot be read. */
StatusCode topics_print(const Topic *topic, FILE *to, Status *status);
StatusCode topics_manual(const Topic *topic, const char *version, FILE *to,
                         Status *status);

#endif
