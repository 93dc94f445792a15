/* views: one athlete's taper searched under several models, to show whether the
 * advice hangs on the model; for `taper --models`.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_VIEWS_H
#define COMMANDS_VIEWS_H

#include "commands/commands.h"

/* The whole answer of `taper --models`. */
StatusCode views_answer(const Call *call, const Desk *desk, const Case *cases,
                        size_t count, Status *status);

#endif
