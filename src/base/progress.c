/* progress: see progress.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/progress.h"

#include <stdio.h>
#include <time.h>
#include <unistd.h>

static const double first = 2;    /* [s] before anything is shown */
static const double between = .2; /* [s] from one line to the next */
enum { WIDTH = 24 /* [columns] of the bar */ };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

Progress progress_begin(const char *what, size_t total, bool quiet) {
    return (Progress){.what = what,
                      .total = total,
                      .began = now(),
                      .terminal = !quiet && isatty(STDERR_FILENO) == 1};
}

static void show(const Progress *p, size_t done, double passed) {
    char bar[WIDTH + 1];
    size_t full = p->total ? WIDTH * done / p->total : 0;
    double left = done ? passed / (double)done * (double)(p->total - done) : 0;
    for (size_t i = 0; i < WIDTH; i++)
        bar[i] = i < full ? '=' : ' ';
    bar[WIDTH] = '\0';
    fprintf(stderr, "\r[%s] %zu of %zu %s", bar, done, p->total, p->what);
    if (done)
        fprintf(stderr, ", some %.0f s left", left);
    fputs("\033[K", stderr);
    fflush(stderr);
}

void progress_step(Progress *p, size_t done) {
    double at;
    if (!p->terminal)
        return;
    at = now();
    if (at - p->began < first || at - p->shown < between)
        return;
    show(p, done, at - p->began);
    p->shown = at;
}

void progress_end(Progress *p) {
    if (p->shown > 0) {
        fputs("\r\033[K", stderr);
        fflush(stderr);
    }
    p->shown = 0;
}
