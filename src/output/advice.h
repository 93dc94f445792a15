/* advice: plain sentences on what people ask beside the tables.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_ADVICE_H
#define OUTPUT_ADVICE_H

#include "answers/best_taper.h"
#include "present/document.h"

/* Days before the event of the last session that still raises readiness then;
 * 0 when none of the sessions that can be cut does. */
size_t advice_last_session(const Score *score);

/* How long before the event the last hard session should be, where the model
 * tells. */
void advice_last(const BestTaper *v, size_t count, Document *doc);

#endif
