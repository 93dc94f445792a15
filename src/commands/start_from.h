/* start_from: a season folder made from somebody's log: the log as it is, the
 * headings and options it was read with, the usual week that it tells, and a
 * table of events to fill in.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_START_FROM_H
#define COMMANDS_START_FROM_H

#include "commands/commands.h"

/* Nothing is written unless the log can be read, and into no folder that has a
 * file of these names. */
StatusCode start_from(const Call *call, Status *status);

#endif
