/* read_exercises: reads exercises.csv, one row an exercise of a session.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>

static const double kg_per_lb = 0.45359237; /* by definition, 1959 */

enum { X_SESSION, X_EXERCISE, X_SETS, X_REPS, X_KG, X_LB, X_PERCENT, X_KEEP };

const Column read_exercises_columns[] = {
    {"session", true},      {"exercise", true}, {"sets", true},
    {"reps", true},         {"kg", false},      {"lb", false},
    {"percent_1rm", false}, {"keep", false},    {NULL, false}};

static bool read_counts(Reader *r, Exercise *x) {
    int sets = 0;
    bool good = reader_whole(r, X_SETS, 1, 100, &sets);
    good = reader_number(r, X_REPS, 1, 10000, &x->reps) && good;
    x->sets = sets;
    for (int i = X_SETS; i <= X_REPS && good; i++)
        if (reader_blank(r, i)) {
            reader_error(r, i, "blank, expected a number");
            good = false;
        }
    return good;
}

static void read_exercise_row(Season *s, Reader *r) {
    Exercise x = {.kg = NAN, .percent = NAN, .line = r->row.line};
    double lb = NAN;
    const char *text;
    bool good = read_counts(r, &x);
    good = reader_number(r, X_KG, 0, 2000, &x.kg) && good;
    good = reader_number(r, X_LB, 0, 4400, &lb) && good;
    good = reader_number(r, X_PERCENT, 1, 120, &x.percent) && good;
    good = reader_yes(r, X_KEEP, &x.keep) && good;
    if (!isfinite(x.kg))
        x.kg = lb * kg_per_lb;
    if (!good || !reader_text(r, X_SESSION, &text))
        return;
    x.session = mem_copy(text);
    if (!reader_text(r, X_EXERCISE, &text)) {
        free(x.session);
        return;
    }
    x.exercise = mem_copy(text);
    s->exercises = mem_grow(s->exercises, &s->exercise_room,
                            s->exercise_count + 1, sizeof *s->exercises);
    s->exercises[s->exercise_count++] = x;
}

void read_exercises(Season *s, const char *path, const SeasonOptions *options,
                    Notes *notes) {
    rows_read(s, path, read_exercises_columns, options, notes,
              read_exercise_row);
}
