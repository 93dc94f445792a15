/* test: what every suite uses.
 *
 * A file of tests ends with a table of them and is listed in suites.def: of
 * tests/taper/search.c, which tests src/taper/search.c, it is
 * suite_taper_search and a part of the suite "taper". A test is a function
 * without arguments that uses the CUnit assertions and those below.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_TEST_H
#define TESTS_TEST_H

#include "base/status.h"

#include <CUnit/CUnit.h>
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct {
    const char *name;
    void (*run)(void);
} TestCase;

typedef struct {
    const char *name;      /* of the suite, which may have several files */
    const TestCase *cases; /* ends with a NULL name */
} TestSuite;

#define SUITE(name) extern const TestSuite suite_##name;
#include "suites.def"
#undef SUITE

/* Is `value` within `tolerance` of `wanted`, absolutely or relative to it? A
 * NAN or an infinity on either side is never near. */
bool test_near(double value, double wanted, double tolerance);

/* Fails with both numbers printed. */
#define ASSERT_NEAR(value, wanted, tolerance)                                  \
    test_assert_near(value, wanted, tolerance, #value, __FILE__, __LINE__)

void test_assert_near(double value, double wanted, double tolerance,
                      const char *what, const char *file, int line);

/* Evidence: from here to the end of the test each ASSERT_NEAR counts towards
 * one row of the table of outside checks in DEVELOPERS.md: the source of the
 * numbers wanted, what is compared, the largest tolerance, the largest
 * distance. Rows go to the file that PEAKWARD_EVIDENCE names
 * (tests/evidence.py). */
void test_evidence(const char *source, const char *what);
/* The same of a comparison that is no ASSERT_NEAR. */
void test_evidence_reached(double apart, double tolerance);
/* At the end of each test; writes the row. */
void test_evidence_done(void);

/* Fails with both texts printed. */
#define ASSERT_TEXT(value, wanted)                                             \
    test_assert_text(value, wanted, #value, __FILE__, __LINE__)

void test_assert_text(const char *value, const char *wanted, const char *what,
                      const char *file, int line);

/* Fails with the text printed unless `part` stands in it. */
#define ASSERT_HAS(text, part) test_assert_has(text, part, __FILE__, __LINE__)

void test_assert_has(const char *text, const char *part, const char *file,
                     int line);

/* The same wherever lines end: line breaks and blanks beside each other count
 * as one blank. */
#define ASSERT_WORDS(text, part)                                               \
    test_assert_words(text, part, __FILE__, __LINE__)

void test_assert_words(const char *text, const char *part, const char *file,
                       int line);

/* A fresh folder for one test below $TMPDIR; the same path is returned until
 * the next call. Removed by test_folder_done(). */
const char *test_folder(void);
void test_folder_done(void);

/* Writes a file into the test's folder and returns its path, valid until the
 * next call with the same `slot` (0 to 9). */
const char *test_file(int slot, const char *name, const char *content);
const char *test_file_bytes(int slot, const char *name, const char *content,
                            size_t length);

/* A whole file as a NUL-terminated string, to be freed; NULL if it cannot be
 * read. */
char *test_read(const char *path, size_t *length);

/* Runs words[0] with its arguments (NULL at the end), standard input from
 * /dev/null. Returns the exit code, or 1000 + signal. What it printed goes to
 * `out` and `err`, to be freed by the caller; NULL: not wanted. */
int test_run(const char *const *words, char **out, char **err);

/* Path of the program under test: $PEAKWARD, else build/peakward. */
const char *test_program(void);

/* Runs the program under test with arguments in one text, split at blanks: `@`
 * stands for `place`, `~` inside a word for a blank. Otherwise as test_run. */
int test_command(const char *arguments, const char *place, char **out,
                 char **err);

/* Runs Debian's Python with a script text and arguments; returns its standard
 * output, to be freed. Fails the test when Python or SciPy fails. */
char *test_python(const char *script, const char *const *arguments);

/* A generator with a seed, which is printed; PEAKWARD_SEED sets another. To be
 * freed. */
gsl_rng *test_random(unsigned long seed);
double test_between(gsl_rng *rng, double low, double high);
int test_whole(gsl_rng *rng, int low, int high); /* both included */

/* First note whose text holds `part`, NULL if none. */
const Note *test_note(const Notes *notes, const char *part);

#endif
