/* crew: pieces of work done by several threads, their results taken in order.
 *
 * A few pieces are under way at a time, so that memory does not grow with their
 * number. What is taken, and when, does not hang on the number of threads.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_CREW_H
#define BASE_CREW_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    size_t pieces;
    int threads;
    size_t slot; /* bytes in which a piece's result is kept until it is taken;
                    all zero when its work begins */
    /* On any thread, several at once. */
    void (*work)(void *with, size_t piece, void *slot);
    /* In the order of the pieces, one at a time, though on any thread. False:
     * no further piece is begun; those begun are still taken. */
    bool (*take)(void *with, size_t piece, void *slot);
    void *with;
} Crew;

void crew_run(const Crew *crew);

/* Processors that this program may use. */
int crew_processors(void);

#endif
