/* commands: one function a command, all in the same order: options (read by
 * main), read, compute, present.
 *
 * Each writes its answer to its output, leaves what there is to say about the
 * files in `notes`, calls `say` once all is read, and returns its exit code; a
 * failure of its own is in `status`.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_COMMANDS_H
#define COMMANDS_COMMANDS_H

#include "options/request.h"

/* Called by commands when all is read, so that main can print the notes
 * before the answer. */
typedef void (*Say)(const Notes *notes);

typedef struct Call {
    const Request *request;
    const Question *question; /* of the request */
    Output output;
    Notes *notes;
    Say say;
} Call;

/* Computes and presents the cases of the athletes asked for. */
typedef StatusCode (*Answer)(const Call *call, const Context *context,
                             const Case *cases, size_t count, Status *status);

/* What the commands about cases share: opens the context, builds the cases,
 * says the notes, has the answer made. */
StatusCode command_on_cases(const Call *call, bool need_event, Answer answer,
                            Status *status);

/* The same, the recommended tapers being decided for the squad together. */
StatusCode command_on_squad(const Call *call, bool need_event, Answer answer,
                            Status *status);

/* Either in a context that is open already. */
StatusCode command_on_open(const Call *call, Context *context, bool together,
                           bool need_event, Answer answer, Status *status);

StatusCode command_check(const Call *call, Status *status);
StatusCode command_load(const Call *call, Status *status);
StatusCode command_simulate(const Call *call, Status *status);
StatusCode command_taper(const Call *call, Status *status);
StatusCode command_compare(const Call *call, Status *status);
StatusCode command_plan(const Call *call, Status *status);
StatusCode command_fit(const Call *call, Status *status);
StatusCode command_report(const Call *call, Status *status);
StatusCode command_lesson(const Call *call, Status *status);
StatusCode command_start(const Call *call, Status *status);
StatusCode command_experiment(const Call *call, Status *status);
StatusCode command_review(const Call *call, Status *status);
StatusCode command_models(const Call *call, Status *status);

#endif
