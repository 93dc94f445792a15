/* commands: one function a command, all in the same order: options (read by
 * main), read, compute, present.
 *
 * Each writes its answer to `to`, leaves what there is to say about the files
 * in `notes`, calls `say` once all is read, and returns its exit code; a
 * failure of its own is in `status`.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_COMMANDS_H
#define COMMANDS_COMMANDS_H

#include "commands/desk.h"

typedef struct {
    const Request *request;
    Notes *notes;
    FILE *to;
    Say say;
} Call;

/* The header row of the answer's table, unless it is not wanted. */
void call_header(const Call *call, const char *names);

/* Lists the files written, a path a line. */
void call_list(const Call *call, const char *heading, const Text *paths);

/* Computes and presents the cases of the athletes asked for. */
typedef StatusCode (*Answer)(const Call *call, const Desk *desk,
                             const Case *cases, size_t count, Status *status);

/* What the commands about cases share: opens the desk, builds the cases, says
 * the notes, has the answer made. */
StatusCode command_on_cases(const Call *call, bool need_event, Answer answer,
                            Status *status);

/* Draws the pictures of the at-th answer; their paths are appended. */
typedef StatusCode (*DrawAnswer)(const void *answers, size_t at,
                                 const Gallery *gallery, Text *paths,
                                 Status *status);

/* Draws those of `count` answers into --out, with a bar where it takes long,
 * and lists the files under `heading`. */
StatusCode call_draw(const Call *call, const void *answers, size_t count,
                     DrawAnswer draw, const char *heading, Status *status);

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
StatusCode command_models(const Call *call, Status *status);

#endif
