/* context: a question's season read and its athletes chosen.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_CONTEXT_H
#define CASES_CONTEXT_H

#include "cases/case.h"

/* Reads the season and chooses the athletes. Failures are error notes; returns
 * the exit code they call for. */
StatusCode context_open(const Question *question, Notes *notes,
                        Context *context);

void context_close(Context *context);

/* Takes a kept plan for the event asked for, if the question wants it so;
 * context_open() has done it. */
void context_older_plans(Context *context);

/* Frees what was decided for several events together, which a copy of a context
 * may have of its own. */
void context_joint_free(Context *context);

#endif
