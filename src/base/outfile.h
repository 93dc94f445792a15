/* outfile: files written whole or not at all.
 *
 * A file is written under a temporary name in its own folder and takes its
 * final name only when every byte is known to be on the way to the disk. What
 * stood there before stays until then.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_OUTFILE_H
#define BASE_OUTFILE_H

#include "base/status.h"

#include <stdio.h>

typedef struct OutFile OutFile;

/* Makes a folder and those above it, if they are not there. */
StatusCode outfile_make_folder(const char *path, Status *status);

/* NULL on failure. */
OutFile *outfile_open(const char *path, Status *status);
/* Where to write; NULL once another program writes (outfile_hand_over). */
FILE *outfile_stream(OutFile *file);
/* Closes our stream and gives the temporary name, for another program to
 * write to. */
const char *outfile_hand_over(OutFile *file);
/* Gives the file its name. Frees `file` in any case. */
StatusCode outfile_commit(OutFile *file, Status *status);
/* The three in one: `fill` writes what is `from` to a file that then takes its
 * name. */
StatusCode outfile_write(const char *path,
                         void (*fill)(const void *from, FILE *to),
                         const void *from, Status *status);
/* Removes what was written. Frees `file`. NULL is fine. */
void outfile_abandon(OutFile *file);
/* Removes every file not yet committed and the scratch folder, if there is
 * one; for leaving in a hurry, also from within a signal's handler. */
void outfile_abandon_all(void);

/* Makes a folder for files that are gone in the end, below $TMPDIR or /tmp; one
 * at a time. Files committed into it are removed with it. NULL on failure. */
const char *outfile_scratch(Status *status);
void outfile_scratch_done(void);

#endif
