/* signals: see signals.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/signals.h"

#include <stddef.h>

void signals_hold(sigset_t *before) {
    sigset_t all;
    sigfillset(&all);
    pthread_sigmask(SIG_SETMASK, &all, before);
}

void signals_let(const sigset_t *before) {
    pthread_sigmask(SIG_SETMASK, before, NULL);
}
