/* read_absences: reads absences.csv, one row a time off.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <stdlib.h>

enum { A_ATHLETE, A_FROM, A_TO, A_REASON, A_RETURN };

const Column read_absences_columns[] = {
    {"athlete", true}, {"from", true},         {"to", true},
    {"reason", true},  {"return_days", false}, {NULL, false}};

enum { RETURN_MOST = 120 /* [d] */ };

static bool blank(Reader *r, int column, const char *expected) {
    if (reader_blank(r, column))
        reader_error(r, column, "blank, expected %s", expected);
    return reader_blank(r, column);
}

/* Another absence of the athlete on some of these days. */
static bool overlaps(const Season *s, const Absence *a, Reader *r) {
    char from[DATE_TEXT], to[DATE_TEXT];
    for (size_t i = 0; i < s->absence_count; i++) {
        const Absence *b = &s->absences[i];
        if (b->athlete != a->athlete || b->from > a->to || a->from > b->to)
            continue;
        reader_error(r, A_FROM,
                     "lies in the absence of line %zu (%s to %s), expected one "
                     "row for each time off",
                     b->line, date_write(from, b->from), date_write(to, b->to));
        return true;
    }
    return false;
}

static void read_row(Season *s, Reader *r) {
    Absence a = {.line = r->row.line};
    char day[DATE_TEXT];
    bool good = !blank(r, A_ATHLETE, "the athlete's name") &&
                !blank(r, A_REASON, "illness, injury, travel or other") &&
                rows_athlete(s, r, A_ATHLETE, &a.athlete);
    good = reader_date(r, A_FROM, &a.from) && good;
    good = reader_date(r, A_TO, &a.to) && good;
    good = reader_word(r, A_REASON, absence_reasons, &a.reason) && good;
    good = reader_whole(r, A_RETURN, 0, RETURN_MOST, &a.return_days) && good;
    if (good && a.to < a.from) {
        reader_error(r, A_TO,
                     "'%s' lies before the first day, expected the "
                     "last day off",
                     date_write(day, a.to));
        good = false;
    }
    if (!good || overlaps(s, &a, r))
        return;
    s->absences = mem_grow(s->absences, &s->absence_room, s->absence_count + 1,
                           sizeof *s->absences);
    s->absences[s->absence_count++] = a;
}

void read_absences(Season *s, const char *path, const SeasonOptions *options,
                   Notes *notes) {
    rows_read(s, path, read_absences_columns, options, notes, read_row);
}
