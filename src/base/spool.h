/* spool: an answer in the making: text that is kept until it is known that all
 * of it can be given.
 *
 * One athlete's part is kept in memory; the whole of a league in a nameless
 * file, so that memory does not grow with it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_SPOOL_H
#define BASE_SPOOL_H

#include "base/status.h"
#include "base/text.h"

#include <stdio.h>

/* All zero: empty. */
typedef struct {
    FILE *stream;
    Text text; /* empty when in a file */
    bool in_file;
    int error; /* errno of the first write that failed */
} Spool;

/* Begins a text in memory; returns the stream to write it to. */
FILE *spool_open(Spool *spool);
/* Begins a text in a file, or where there can be none, in memory. */
void spool_file(Spool *spool);
/* Adds one text to another; the first is then empty. */
void spool_move(Spool *from, Spool *to);
/* Ends the text. Fails with STATUS_SYSTEM when the file did. */
StatusCode spool_end(Spool *spool, Status *status);
/* Writes out a text that has ended. Fails likewise. */
StatusCode spool_print(Spool *spool, FILE *to, Status *status);
/* The stream to read a text that has ended from its start; NULL: it is
 * empty. */
FILE *spool_read(Spool *spool);
void spool_free(Spool *spool);

#endif
