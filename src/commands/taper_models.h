/* taper_models: one athlete's taper searched under several models, to show
 * whether the advice hangs on the model; for `taper --models`.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_TAPER_MODELS_H
#define COMMANDS_TAPER_MODELS_H

#include "commands/commands.h"

/* The whole answer of `taper --models`. */
StatusCode taper_models_answer(const Call *call, const Context *context,
                               const Case *cases, size_t count, Status *status);

#endif
