/* days: see days.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/days.h"

#include "base/mem.h"

#include <stdlib.h>

enum {
    LONGEST_BREAK = 366 /* [d] a longer one at an end is a mistyped year */
};

static Date earliest(void) {
    return date_of((Civil){1900, 1, 1});
}

static Date latest(void) {
    return date_of((Civil){2199, 12, 31});
}

void days_start(Days *d) {
    *d = (Days){.first = DATE_NONE, .last = DATE_NONE};
    d->rows = mem_new((size_t)(latest() - earliest()) + 1, sizeof *d->rows);
}

void days_add(Days *d, Date date) {
    d->rows[date - earliest()]++;
    if (d->count == 0 || date < d->first)
        d->first = date;
    if (d->count == 0 || date > d->last)
        d->last = date;
    d->count++;
}

void days_free(Days *d) {
    free(d->rows);
    *d = (Days){0};
}

/* The days of the outermost rows, from one end inwards. */
static void find_end(const Days *d, int step, Date day[DAYS_STRAY_ROWS + 1]) {
    Date at = step > 0 ? d->first : d->last;
    size_t used = 0;
    for (int i = 0; i <= DAYS_STRAY_ROWS; i++) {
        while (used == d->rows[at - earliest()]) {
            at += step;
            used = 0;
        }
        day[i] = at;
        used++;
    }
}

size_t days_stray(const Days *d, DaysRange range[2 * DAYS_STRAY_ROWS]) {
    Date low[DAYS_STRAY_ROWS + 1], high[DAYS_STRAY_ROWS + 1];
    size_t found = 0;
    if (d->count <= DAYS_STRAY_ROWS + 1)
        return 0;
    find_end(d, 1, low);
    find_end(d, -1, high);
    for (size_t k = 1; k <= DAYS_STRAY_ROWS && k + DAYS_STRAY_ROWS < d->count;
         k++) {
        if (high[k - 1] - high[k] > LONGEST_BREAK)
            range[found++] = (DaysRange){high[k - 1], high[0]};
        if (low[k] - low[k - 1] > LONGEST_BREAK)
            range[found++] = (DaysRange){low[0], low[k - 1]};
    }
    return found;
}
