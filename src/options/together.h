/* together: which options can go together, and what the ones that were given
 * say of those that were not.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_TOGETHER_H
#define OPTIONS_TOGETHER_H

#include "options/request.h"

/* Is an option (without its dashes) among the words of the command line? */
bool together_given(int count, char *const *words, const char *name);

/* Fails with STATUS_USAGE; the first trouble stays. */
StatusCode together_judge(int command, int count, char *const *words,
                          Request *r, Status *status);

#endif
