/* read_tests: reads tests.csv, one row a performance test.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { T_DATE, T_ATHLETE, T_TEST, T_VALUE, T_ERROR, T_BETTER, T_WHEN };

static const Column test_columns[] = {
    {"date", true},   {"athlete", false}, {"test", true},  {"value", true},
    {"error", false}, {"better", false},  {"when", false}, {NULL, false}};

static void read_test_row(Season *s, Reader *r) {
    static const char *const betters[] = {"higher", "lower", NULL};
    static const char *const whens[] = {"before", "after", NULL};
    Test test = {.date = DATE_NONE, .value = NAN, .error = NAN};
    int better = 0, when = 0;
    size_t who;
    const char *name;
    Athlete *a;
    bool good = reader_date(r, T_DATE, &test.date);
    good = rows_athlete(s, r, T_ATHLETE, &who) && good;
    good = reader_number(r, T_VALUE, -1e9, 1e9, &test.value) && good;
    good = reader_number(r, T_ERROR, 1e-9, 1e9, &test.error) && good;
    good = reader_word(r, T_BETTER, betters, &better) && good;
    good = reader_word(r, T_WHEN, whens, &when) && good;
    if (good && !isfinite(test.value)) {
        reader_error(r, T_VALUE, "blank, expected the result of the test");
        good = false;
    }
    if (!good || !reader_text(r, T_TEST, &name))
        return;
    if (who == NAMES_NONE && s->athlete_count == 1)
        who = 0; /* the one athlete of the log */
    if (who == NAMES_NONE) {
        reader_error(r, T_ATHLETE,
                     "blank, expected the athlete's name, since the season "
                     "has %zu athletes",
                     s->athlete_count);
        return;
    }
    test.test = (uint32_t)names_add(&s->test_names, name, strlen(name));
    test.lower_better = better == 1;
    test.after = when == 1;
    a = &s->athletes[who];
    a->tests =
        mem_grow(a->tests, &a->test_room, a->test_count + 1, sizeof *a->tests);
    a->tests[a->test_count++] = test;
}

static int by_date(const void *a, const void *b) {
    const Test *x = a, *y = b;
    if (x->date != y->date)
        return x->date < y->date ? -1 : 1;
    if (x->after != y->after)
        return x->after ? 1 : -1;
    if (x->test != y->test)
        return x->test < y->test ? -1 : 1;
    return (x->value > y->value) - (x->value < y->value);
}

void read_tests(Season *s, const char *path, const SeasonOptions *options,
                Notes *notes) {
    if (!rows_read(s, path, test_columns, options, notes, read_test_row))
        return;
    for (size_t i = 0; i < s->athlete_count; i++)
        if (s->athletes[i].test_count > 0)
            qsort(s->athletes[i].tests, s->athletes[i].test_count, sizeof(Test),
                  by_date);
}
