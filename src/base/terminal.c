/* terminal: see terminal.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/terminal.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/select.h>
#include <termios.h>
#include <unistd.h>

static const int watched[] = {SIGINT,  SIGTERM, SIGHUP,
                              SIGQUIT, SIGTSTP, SIGWINCH};
enum { WATCHED = 6 };

static struct {
    bool open;
    bool plain; /* a terminal without control sequences */
    struct termios found;
    struct sigaction before[WATCHED];
    sigset_t mask; /* as it was found */
} terminal;

static volatile sig_atomic_t arrived[WATCHED];

static void on_signal(int number) {
    for (int i = 0; i < WATCHED; i++)
        if (watched[i] == number)
            arrived[i] = 1;
}

/* The other screen of an ANSI terminal (xterm's private mode 1049), so that
 * what stood on this one is there again afterwards. */
static void other_screen(bool on) {
    if (!terminal.plain)
        fputs(on ? "\033[?1049h" : "\033[?1049l", stdout);
    fflush(stdout);
}

/* Keys one by one, without echo; signals of keys stay. */
static bool take(void) {
    struct termios own = terminal.found;
    own.c_lflag &= (tcflag_t) ~(ICANON | ECHO);
    own.c_cc[VMIN] = 1;
    own.c_cc[VTIME] = 0;
    if (tcsetattr(STDIN_FILENO, TCSADRAIN, &own) != 0)
        return false;
    other_screen(true);
    return true;
}

/* A terminal that another program has in its hands by now is left to it. */
static void give_back(void) {
    if (tcgetpgrp(STDIN_FILENO) != getpgrp())
        return;
    other_screen(false);
    tcsetattr(STDIN_FILENO, TCSADRAIN, &terminal.found);
}

/* Signals are let in only while waiting for a key, so none is overlooked. */
static void watch(void) {
    struct sigaction action = {.sa_handler = on_signal};
    sigset_t set;
    sigemptyset(&set);
    sigemptyset(&action.sa_mask);
    for (int i = 0; i < WATCHED; i++) {
        arrived[i] = 0;
        sigaddset(&set, watched[i]);
    }
    sigprocmask(SIG_BLOCK, &set, &terminal.mask);
    for (int i = 0; i < WATCHED; i++)
        sigaction(watched[i], &action, &terminal.before[i]);
}

static void unwatch(void) {
    for (int i = 0; i < WATCHED; i++)
        sigaction(watched[i], &terminal.before[i], NULL);
    sigprocmask(SIG_SETMASK, &terminal.mask, NULL);
}

StatusCode terminal_open(const char *what, Status *status) {
    const char *kind = getenv("TERM");
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
        return status_fail(status, STATUS_USAGE,
                           "%s: standard %s is no terminal, expected one to "
                           "read keys from and draw on",
                           what, isatty(STDIN_FILENO) ? "output" : "input");
    if (tcgetattr(STDIN_FILENO, &terminal.found) != 0)
        return status_fail(status, STATUS_SYSTEM,
                           "%s: the terminal cannot be read: %s", what,
                           strerror(errno));
    terminal.plain = !kind || !*kind || strcmp(kind, "dumb") == 0;
    watch();
    if (!take()) {
        unwatch();
        return status_fail(status, STATUS_SYSTEM,
                           "%s: the terminal cannot be set: %s", what,
                           strerror(errno));
    }
    terminal.open = true;
    return STATUS_OK;
}

void terminal_close(void) {
    if (!terminal.open)
        return;
    give_back();
    unwatch();
    terminal.open = false;
}

void terminal_clear(void) {
    fputs(terminal.plain ? "\n" : "\033[H\033[J", stdout);
}

static void answer(int number) {
    struct sigaction action = {.sa_handler = on_signal};
    sigemptyset(&action.sa_mask);
    sigaction(number, &action, NULL);
}

/* Does what the signal did before, with the terminal given back. After a stop
 * the program goes on here. */
static void pass_on(int i) {
    sigset_t one, kept;
    arrived[i] = 0;
    give_back();
    sigaction(watched[i], &terminal.before[i], NULL);
    sigemptyset(&one);
    sigaddset(&one, watched[i]);
    raise(watched[i]);
    sigprocmask(SIG_UNBLOCK, &one, &kept);
    sigprocmask(SIG_SETMASK, &kept, NULL);
    answer(watched[i]);
    take();
}

/* Deals with what arrived; true if the screen is to be drawn anew. */
static bool heed(void) {
    bool redraw = false;
    for (int i = 0; i < WATCHED; i++) {
        if (!arrived[i])
            continue;
        redraw = true;
        if (watched[i] == SIGWINCH)
            arrived[i] = 0;
        else
            pass_on(i);
    }
    return redraw;
}

/* Is there something to read? Waits for ever, or a twentieth of a second for
 * the rest of a key's sequence. */
static bool ready(bool wait) {
    struct timespec soon = {0, 50000000};
    fd_set set;
    FD_ZERO(&set);
    FD_SET(STDIN_FILENO, &set);
    return pselect(STDIN_FILENO + 1, &set, NULL, NULL, wait ? NULL : &soon,
                   wait ? &terminal.mask : NULL) > 0;
}

/* What follows an escape: an arrow, or a key that is passed over. */
static int sequence(void) {
    static const int arrows[] = {KEY_UP, KEY_DOWN, KEY_RIGHT, KEY_LEFT};
    unsigned char c = 0;
    if (!ready(false) || read(STDIN_FILENO, &c, 1) != 1)
        return KEY_OTHER;
    if (c != '[' && c != 'O')
        return KEY_OTHER;
    while (ready(false) && read(STDIN_FILENO, &c, 1) == 1)
        if (c >= 0x40 && c < 0x7F)
            return c >= 'A' && c <= 'D' ? arrows[c - 'A'] : KEY_OTHER;
    return KEY_OTHER;
}

int terminal_key(void) {
    for (;;) {
        unsigned char c;
        ssize_t got;
        if (!ready(true)) {
            if (errno != EINTR)
                return KEY_QUIT;
            if (heed())
                return KEY_REDRAW;
            continue;
        }
        got = read(STDIN_FILENO, &c, 1);
        if (got != 1 || c == terminal.found.c_cc[VEOF])
            return KEY_QUIT;
        return c == 0x1B ? sequence() : c;
    }
}
