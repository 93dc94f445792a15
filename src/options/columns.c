/* columns: see columns.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/columns.h"

#include "season/season.h"

bool columns_known(const char *name) {
    return text_same(name, "ignore") || season_has_column(name);
}

const char *columns_expected(const char *name, Text *text) {
    const char *nearest = season_nearest_column(name);
    text_add(text, "a column of ours, like date, athlete, load, minutes or "
                   "rpe, or ignore");
    if (nearest)
        text_add(text, "; the nearest is %s", nearest);
    return text_of(text);
}
