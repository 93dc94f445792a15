/* rows: what the readers of the smaller files share.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/files.h"

#include <string.h>

bool rows_athlete(Season *s, Reader *r, int column, size_t *athlete) {
    const char *name;
    size_t before;
    *athlete = NAMES_NONE;
    if (reader_blank(r, column))
        return true;
    if (!reader_text(r, column, &name))
        return false;
    before = s->athlete_count;
    *athlete = season_add_athlete(s, name, strlen(name));
    if (*athlete == before && s->log_read) {
        char shown[TEXT_EXCERPT];
        reader_warning(r, column,
                       "%s has neither sessions nor a row in athletes.csv; is "
                       "the name spelt right?",
                       text_excerpt(shown, s->athletes[before].name));
    }
    return true;
}

bool rows_read(Season *s, const char *path, const Column *columns,
               const SeasonOptions *options, Notes *notes,
               void (*row)(Season *s, Reader *r)) {
    Reader r;
    if (!reader_open(&r, path, columns, &options->read, notes))
        return false;
    while (reader_next(&r))
        row(s, &r);
    reader_close(&r);
    return true;
}
