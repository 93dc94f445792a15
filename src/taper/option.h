/* option: a taper in words: how much of each day's volume is cut.
 *
 * Comma-separated parts DAYSd-CUT, the last ending on the day before the event:
 * `7d-50,7d-75`; `14d-50` a step; `14d-0..75` a straight-line fall from no cut
 * on its first day to 75 % on its last; `14d-0~75` the same ends with the load
 * kept falling by an equal share each day (exponential); `3d-100` rest; `none`.
 * `21d+20,14d-50` builds up first: three weeks at 20 % more than usual.
 * Cuts are per cent of the volume planned; intensity and frequency stay.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_OPTION_H
#define TAPER_OPTION_H

#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

typedef enum {
    SHAPE_NONE,
    SHAPE_STEP,
    SHAPE_LINEAR,
    SHAPE_EXPONENTIAL,
    SHAPE_TWO_STEP,
    SHAPE_REST,
    SHAPE_OTHER, /* any other sequence of parts */
    SHAPES
} Shape;

/* "none", "step", ..., "two-step", "rest", "other"; ends with NULL. */
extern const char *const shape_names[];

typedef struct {
    int days;        /* [d] 1 or more */
    double from, to; /* [%] cut on the first and the last day; below 0: more
                        than usual */
    char fall;       /* 'x' constant, '-' straight line, '~' exponential */
} OptionPart;

enum { OPTION_PARTS = 8, OPTION_LONGEST = 120 /* [d] */, OPTION_WHY = 160 };

typedef struct {
    OptionPart part[OPTION_PARTS];
    int count; /* 0: no taper */
} Option;

/* Reads a spec (not `best`, which is a question). On failure returns false and
 * fills `why`, as the end of a sentence that begins "expected ". */
bool option_read(const char *spec, Option *option, char why[OPTION_WHY]);

/* The spec of an option, appended. */
void option_write(const Option *option, Text *text);

/* The option for people: "14 days at 50 %", appended. Says what is kept. */
void option_words(const Option *option, Text *text);

Shape option_shape(const Option *option);
int option_days(const Option *option);
/* Days of build-up at its beginning, and the most load above the usual [%]. */
int option_build_days(const Option *option);
double option_more(const Option *option);
/* The largest cut on any day [%]. */
double option_cut(const Option *option);

/* Any order of options, for qsort(); 0 where all parts are alike. */
int option_order(const void *one, const void *other);

/* Cut on each of the last `window` days before the event, as shares of 1:
 * cut[u - 1] for the day u days before. Parts before the window are left out.
 */
void option_cuts(const Option *option, size_t window, double *cut);

#endif
