/* taper_squad: `taper --groups N`: a few plans for a squad, who gets which, and
 * what each athlete loses against a plan of their own.
 *
 * What is lost is the gain of the athlete's own best option minus that under
 * the plan, as a share of the most that any daily loads within the limits could
 * gain them. Athletes on the way to different events get plans apart.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_TAPER_SQUAD_H
#define COMMANDS_TAPER_SQUAD_H

#include "commands/commands.h"

/* The answer of `taper` with --groups. */
StatusCode taper_squad_answer(const Call *call, const Context *context,
                              const Case *cases, size_t count, Status *status);

#endif
