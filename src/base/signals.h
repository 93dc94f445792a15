/* signals: a few lines during which no signal comes.
 *
 * What a signal's handler looks at (files not yet committed, the process that
 * draws) changes only while signals are held.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_SIGNALS_H
#define BASE_SIGNALS_H

#include <signal.h>

void signals_hold(sigset_t *before);
void signals_let(const sigset_t *before);

#endif
