/* play: a model tried out in the terminal: keys change its parameters and the
 * taper, and tables are drawn anew.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_PLAY_H
#define LESSONS_PLAY_H

#include "response/model.h"

#include <stdio.h>

/* Runs until the reader quits. Fails with STATUS_USAGE when standard input or
 * output is no terminal; the terminal is left as it was found. */
StatusCode play(const Model *model, FILE *to, Status *status);

#endif
