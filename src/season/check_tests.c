/* check_tests: performance tests that look wrong; see check.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/number.h"
#include "season/check.h"

#include <math.h>
#include <stdlib.h>

enum {
    FEW = 3,    /* values of a kind before another unit can be told */
    OWN = 5,    /* values of a kind before one can be far from the others */
    DAILY = 60, /* values of a kind from which it is a daily answer */
    SQUAD = 3   /* athletes before one's unit can differ from theirs */
};

/* One kind of test of one athlete: its values, into `values`; returns how many.
 */
static size_t values_of(const Athlete *a, size_t kind, double *values) {
    size_t count = 0;
    for (size_t i = 0; i < a->test_count; i++)
        if (a->tests[i].test == kind)
            values[count++] = a->tests[i].value;
    return count;
}

/* A robust SD: 1.4826 times the median distance from the median (Rousseeuw,
 * Croux 1993, J Am Stat Assoc 88:1273-1283), and at least 2 % of the median
 * where the values hardly differ, and the step of answers on a scale. `values`
 * are in no order after it. */
static double robust_sd(double *values, size_t count, double median) {
    double least = fmax(0.02 * fabs(median), number_step(values, count));
    for (size_t i = 0; i < count; i++)
        values[i] = fabs(values[i] - median);
    return fmax(1.4826 * load_median(values, count), least);
}

/* A value over five robust SD from the athlete's own is more often a slip than
 * a jump (common practice, no source). */
static void check_far(const Season *s, const Athlete *a, const char *path,
                      Notes *notes) {
    double *values = mem_new(a->test_count, sizeof *values);
    for (size_t kind = 0; kind < s->test_names.count; kind++) {
        size_t count = values_of(a, kind, values);
        double median = load_median(values, count), sd;
        if (count < OWN)
            continue;
        sd = robust_sd(values, count, median);
        for (size_t i = 0; i < a->test_count; i++) {
            const Test *test = &a->tests[i];
            Place place = {path, test->line, "value"};
            char shown[TEXT_EXCERPT], name[TEXT_EXCERPT];
            double off = fabs(test->value - median);
            if (test->test == kind && off > 5 * sd &&
                off < 9 * fabs(median)) /* else another unit, see below */
                notes_add(notes, LEVEL_WARNING, place,
                          "%s of %s is %g, far from their others (median %g, "
                          "usually within %.2g of it); is it typed right?",
                          text_excerpt(name, s->test_names.items[kind]),
                          text_excerpt(shown, a->name), test->value, median,
                          2 * sd);
            notes_about(notes, a->name, NULL);
        }
    }
    free(values);
}

/* Others' values of a kind of test are ten times as large, or a tenth. */
static void check_squad_units(const Season *s, const char *path, size_t kind,
                              Notes *notes) {
    double *medians = mem_new(s->athlete_count, sizeof *medians);
    double *kept = mem_new(s->athlete_count, sizeof *kept), usual;
    size_t count = 0;
    for (size_t i = 0; i < s->athlete_count; i++) {
        const Athlete *a = &s->athletes[i];
        double *values = mem_new(a->test_count, sizeof *values);
        size_t of = values_of(a, kind, values);
        medians[i] = of ? fabs(load_median(values, of)) : NAN;
        if (of)
            kept[count++] = medians[i];
        free(values);
    }
    usual = load_median(kept, count);
    for (size_t i = 0; i < s->athlete_count && count >= SQUAD; i++) {
        Place place = {path, 0, "value"};
        char shown[TEXT_EXCERPT], name[TEXT_EXCERPT];
        if (usual > 0 &&
            (medians[i] >= 10 * usual || medians[i] <= usual / 10)) {
            notes_add(notes, LEVEL_WARNING, place,
                      "%s of %s is about %.3g where the squad's is about %.3g; "
                      "write all of a kind in one unit",
                      text_excerpt(name, s->test_names.items[kind]),
                      text_excerpt(shown, s->athletes[i].name), medians[i],
                      usual);
            notes_about(notes, s->athletes[i].name, NULL);
        }
    }
    free(medians);
    free(kept);
}

static bool plays_on(const Athlete *a, Date date) {
    for (size_t i = 0; i < a->session_count; i++)
        if (a->sessions[i].date == date && a->sessions[i].kind == KIND_MATCH)
            return true;
    return false;
}

/* Tests on the day of a match of which nobody has said when they were; daily
 * answers lie on every day. */
static void check_match_days(const Season *s, const Athlete *a,
                             const char *path, Notes *notes) {
    double *values = mem_new(a->test_count, sizeof *values);
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        Place place = {path, test->line, "date"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT];
        if (!test->when_said && plays_on(a, test->date) &&
            values_of(a, test->test, values) < DAILY) {
            notes_add(notes, LEVEL_WARNING, place,
                      "a test of %s on %s, a match day; is the date right, and "
                      "was it before the match? The column when says it: "
                      "before or after",
                      text_excerpt(shown, a->name),
                      date_write(day, test->date));
            notes_about(notes, a->name, NULL);
        }
    }
    (void)s;
    free(values);
}

/* A test ten times the athlete's median of its kind, or a tenth: most likely
 * another unit. */
static void check_units(const Season *s, const Athlete *a, const char *path,
                        Notes *notes) {
    double *values = mem_new(a->test_count, sizeof *values);
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        Place place = {path, 0, "value"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT], name[TEXT_EXCERPT];
        size_t count = 0;
        double median;
        for (size_t k = 0; k < a->test_count; k++)
            if (a->tests[k].test == test->test)
                values[count++] = fabs(a->tests[k].value);
        median = load_median(values, count);
        if (count < 3 || !(median > 0) ||
            (fabs(test->value) < 10 * median &&
             fabs(test->value) > median / 10))
            continue;
        notes_add(notes, LEVEL_WARNING, place,
                  "%s of %s on %s is %g where the median is %g; is it in "
                  "another unit?",
                  text_excerpt(name, s->test_names.items[test->test]),
                  text_excerpt(shown, a->name), date_write(day, test->date),
                  test->value, median);
        notes_about(notes, a->name, NULL);
    }
    free(values);
}

static void check_outside(const Season *s, const Athlete *a, const char *path,
                          Notes *notes) {
    for (size_t i = 0; i < a->test_count; i++) {
        const Test *test = &a->tests[i];
        Place place = {path, 0, "date"};
        char day[DATE_TEXT], shown[TEXT_EXCERPT];
        bool before = a->session_count && test->date < a->sessions[0].date;
        if (a->session_count && !before && test->date <= s->last)
            continue;
        notes_add(notes, LEVEL_WARNING, place,
                  "a test of %s on %s lies %s the log",
                  text_excerpt(shown, a->name), date_write(day, test->date),
                  before ? "before" : "after");
        notes_about(notes, a->name, NULL);
    }
}

void check_tests(const Season *s, size_t athlete, Notes *notes) {
    const Athlete *a = &s->athletes[athlete];
    Text path = {0};
    season_file(s, "tests", &path);
    check_outside(s, a, text_of(&path), notes);
    check_units(s, a, text_of(&path), notes);
    check_far(s, a, text_of(&path), notes);
    text_free(&path);
}

void check_squad_tests(const Season *s, Notes *notes) {
    Text path = {0};
    season_file(s, "tests", &path);
    for (size_t kind = 0; kind < s->test_names.count; kind++)
        check_squad_units(s, text_of(&path), kind, notes);
    text_free(&path);
}

void check_all_tests(const Season *s, Notes *notes) {
    Text path = {0};
    season_file(s, "tests", &path);
    check_squad_tests(s, notes);
    for (size_t i = 0; i < s->athlete_count; i++)
        check_tests(s, i, notes);
    for (size_t i = 0; i < s->athlete_count; i++)
        check_match_days(s, &s->athletes[i], text_of(&path), notes);
    text_free(&path);
}
