/* taper_joint: the answer of `taper --joint`: several events of each athlete
 * weighed against each other.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_TAPER_JOINT_H
#define COMMANDS_TAPER_JOINT_H

#include "commands/commands.h"

StatusCode taper_joint_answer(const Call *call, const Context *context,
                              const Case *cases, size_t count, Status *status);

#endif
