/* form: a command's rows in another form than --csv prints them in: with
 * decimal commas, or as a workbook in the folder of --out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_FORM_H
#define COMMANDS_FORM_H

#include "commands/commands.h"

/* Runs a command in the form that is asked for; `name` is that of the workbook,
 * whose path is printed. */
StatusCode form_run(StatusCode (*command)(const Call *, Status *), Call *call,
                    const char *name, Status *status);

#endif
