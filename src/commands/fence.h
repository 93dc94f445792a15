/* fence: the limits that bear on the usual week itself: no gym on the last
 * days, and the kinds of sessions that may be cut.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_FENCE_H
#define COMMANDS_FENCE_H

#include "commands/desk.h"

/* Puts --no-gym and --cut-kinds into the case's usual week; what contradicts
 * them (week.csv, or its absence) is an error note. */
void fence_usual(Desk *d, Case *c);

#endif
