/* progress: for work over two seconds, a line on a terminal's standard error
 * that says how far it is and how long it may take; never into a pipe or a
 * file.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_PROGRESS_H
#define BASE_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    const char *what; /* "athletes read" */
    size_t total;
    double began;  /* [s] of a clock that only goes forward */
    double shown;  /* [s] when the line was last written; 0: never */
    bool terminal; /* and not quiet */
} Progress;

Progress progress_begin(const char *what, size_t total, bool quiet);
/* `done` of the total are done. */
void progress_step(Progress *progress, size_t done);
/* Wipes the line. */
void progress_end(Progress *progress);

#endif
