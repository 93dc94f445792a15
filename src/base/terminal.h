/* terminal: single keys from the terminal, which is left as it was found: on
 * quitting, at the end of input and on signals.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_TERMINAL_H
#define BASE_TERMINAL_H

#include "base/status.h"

#include <stdbool.h>

/* What terminal_key() gives besides the character typed. */
enum {
    KEY_QUIT = -1,   /* end of input, or ctrl-D */
    KEY_REDRAW = -2, /* back from a stop, or another window size */
    KEY_UP = 256,
    KEY_DOWN,
    KEY_RIGHT,
    KEY_LEFT,
    KEY_OTHER /* a key that is none of these */
};

/* Takes over standard input and output, both terminals, and shows an empty
 * screen. Fails with STATUS_USAGE, naming `what`, when they are none. */
StatusCode terminal_open(const char *what, Status *status);
/* Gives it back. */
void terminal_close(void);

/* Waits for a key. SIGINT, SIGTERM, SIGHUP and SIGQUIT give the terminal back
 * and then do what they did before; so does SIGTSTP, and the terminal is taken
 * again when the program goes on. */
int terminal_key(void);

/* Puts the cursor to the top of an empty screen; `to` is standard output. */
void terminal_clear(void);

#endif
