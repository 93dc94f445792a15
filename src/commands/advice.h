/* advice: plain sentences on what people ask beside the tables.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_ADVICE_H
#define COMMANDS_ADVICE_H

#include "commands/verdict.h"

/* Days before the event of the last session that still raises readiness then;
 * 0 when none of the sessions that can be cut does. */
size_t advice_last_session(const Score *score);

/* Prints how long before the event the last hard session should be, where the
 * model is linear. */
void advice_print_last(const Verdict *v, size_t count, FILE *to);

#endif
