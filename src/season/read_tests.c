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

const Column read_tests_columns[] = {
    {"date", true},   {"athlete", false}, {"test", true},  {"value", true},
    {"error", false}, {"better", false},  {"when", false}, {NULL, false}};

/* ---- which way is better ---- */

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_one_of(const char *word, const char *const *words) {
    while (*words && !text_same(word, *words))
        words++;
    return *words;
}

/* Is one of the words in the name, or one of the units in its brackets? */
static bool says_time(const char *name) {
    static const char *const words[] = {
        "sprint",  "sprints", "run",  "runs",   "time",    "times", "second",
        "seconds", "sec",     "secs", "minute", "minutes", NULL};
    static const char *const units[] = {"s", "min", "ms", "h", NULL};
    while (*name) {
        size_t length = 0;
        bool bracket = *name == '(' || *name == '[';
        char *word;
        bool found;
        name += !is_letter(*name);
        while (is_letter(name[length]))
            length++;
        word = mem_copy_part(name, length);
        found = is_one_of(word, words) || (bracket && is_one_of(word, units));
        free(word);
        if (found)
            return true;
        name += length;
    }
    return false;
}

/* The kind of a row's test, which is the first of it or has to agree with the
 * others. */
static bool find_kind(Season *s, Reader *r, const char *name, int better,
                      uint32_t *kind) {
    static const char *const betters[] = {"higher", "lower"};
    size_t known = s->test_names.count;
    size_t id = names_add(&s->test_names, name, strlen(name));
    TestKind *k;
    s->test_kinds = mem_grow(s->test_kinds, &s->test_kind_room, id + 1,
                             sizeof *s->test_kinds);
    k = &s->test_kinds[id];
    if (id == known)
        *k = (TestKind){.line = (uint32_t)r->row.line};
    *kind = (uint32_t)id;
    if (better >= 0 && k->said_line && k->lower_better != (better == 1)) {
        char shown[TEXT_EXCERPT];
        reader_error(r, T_BETTER, "'%s', expected %s as for %s on line %u",
                     betters[better], betters[k->lower_better],
                     text_excerpt(shown, name), k->said_line);
        return false;
    }
    if (better >= 0 && !k->said_line) {
        k->said_line = (uint32_t)r->row.line;
        k->lower_better = better == 1;
    }
    return true;
}

/* In seconds less is better, most often: a guess would turn the advice round.
 */
static void require_better(const Season *s, const char *path, Notes *notes) {
    for (size_t i = 0; i < s->test_names.count; i++) {
        Place place = {path, s->test_kinds[i].line, "better"};
        char shown[TEXT_EXCERPT];
        if (!s->test_kinds[i].said_line && says_time(s->test_names.items[i]))
            notes_add(notes, LEVEL_ERROR, place,
                      "blank for %s, which looks like a time; expected 'lower' "
                      "if fewer seconds are better, 'higher' if more are",
                      text_excerpt(shown, s->test_names.items[i]));
    }
}

static void set_better(Season *s) {
    for (size_t i = 0; i < s->athlete_count; i++)
        for (size_t k = 0; k < s->athletes[i].test_count; k++) {
            Test *test = &s->athletes[i].tests[k];
            test->lower_better = s->test_kinds[test->test].lower_better;
        }
}

/* ---- the file ---- */

static void read_test_row(Season *s, Reader *r) {
    static const char *const betters[] = {"higher", "lower", NULL};
    static const char *const whens[] = {"before", "after", NULL};
    Test test = {.date = DATE_NONE,
                 .value = NAN,
                 .error = NAN,
                 .line = (uint32_t)r->row.line};
    int better = -1, when = 0;
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
    if (!good || !reader_text(r, T_TEST, &name) ||
        !find_kind(s, r, name, better, &test.test))
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
    test.after = when == 1;
    test.when_said = !reader_blank(r, T_WHEN);
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

/* One athlete's log and several athletes' tests. */
static void refuse_several(const Season *s, const char *path, Notes *notes) {
    Place place = {path, 0, "athlete"};
    size_t tested = 0;
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->athlete_count; i++)
        tested += s->athletes[i].test_count > 0;
    if (s->unnamed && tested > 1)
        notes_add(notes, LEVEL_ERROR, place,
                  "here are tests of %zu athletes, but %s has no column "
                  "'athlete', so it is one athlete's; expected that column "
                  "(or --map athlete=HEADING)",
                  tested, text_excerpt(shown, s->log_path));
}

void read_tests(Season *s, const char *path, const SeasonOptions *options,
                Notes *notes) {
    if (!rows_read(s, path, read_tests_columns, options, notes, read_test_row))
        return;
    refuse_several(s, path, notes);
    require_better(s, path, notes);
    set_better(s);
    for (size_t i = 0; i < s->athlete_count; i++)
        if (s->athletes[i].test_count > 0)
            qsort(s->athletes[i].tests, s->athletes[i].test_count, sizeof(Test),
                  by_date);
}
