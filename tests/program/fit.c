/* fit: fits, what tests do not tell, and their pictures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void fit_model(void) {
    static const char *const tests =
        "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
        "2026-01-26,wing-07,Jump,31.9\n2026-02-09,wing-07,Jump,32.3\n";
    const char *folder;
    char *out, *err;
    make_good_log();
    /* a model written by fit gives another command the same figures as the
     * tests themselves (which taper is recommended may differ: a model that is
     * named is followed, tests that tell little are not) */
    folder = test_folder();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "tests.csv", strchr(tests, '|') + 1);
    CU_ASSERT_EQUAL(run("fit @ --out @/out --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "/out/wing-07-model.csv");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("compare @ --csv --quiet --option 14d-50 --option "
                        "3d-100 --option best",
                        folder, &out, &err),
                    0);
    {
        char *again;
        free(err);
        CU_ASSERT_EQUAL(
            run("compare @ --csv --quiet --option 14d-50 --option 3d-100 "
                "--option best --model @/out/wing-07-model.csv",
                folder, &again, &err),
            0);
        test_same_table(out, again);
        free(again);
    }
    free(out);
    free(err);
    test_folder_done();
}

/* Of two kinds with as many tests the answer is in the unit of the first by
 * name, whatever stands first in the file. */
static void kinds_tie(void) {
    static const char *const files[] = {
        "date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
        "2026-01-13,wing-07,Bound,231\n2026-01-26,wing-07,Jump,31.9\n"
        "2026-01-27,wing-07,Bound,238\n2026-02-09,wing-07,Jump,32.3\n"
        "2026-02-10,wing-07,Bound,236\n",
        "date,athlete,test,value\n2026-01-13,wing-07,Bound,231\n"
        "2026-01-12,wing-07,Jump,31.2\n2026-01-27,wing-07,Bound,238\n"
        "2026-01-26,wing-07,Jump,31.9\n2026-02-10,wing-07,Bound,236\n"
        "2026-02-09,wing-07,Jump,32.3\n"};
    char *compared[2];
    make_good_log();
    for (int i = 0; i < 2; i++) {
        const char *folder = test_folder();
        char *fitted, *err;
        test_file(0, "sessions.csv", good_log);
        test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
        test_file(2, "tests.csv", files[i]);
        CU_ASSERT_EQUAL(run("compare @ --csv --quiet --option 14d-50", folder,
                            &compared[i], &err),
                        0);
        free(err);
        CU_ASSERT_EQUAL(run("fit @ --csv --quiet", folder, &fitted, &err), 0);
        ASSERT_HAS(fitted, "wing-07,Bound,");
        free(fitted);
        free(err);
        test_folder_done();
    }
    test_same_table(compared[0], compared[1]);
    free(compared[0]);
    free(compared[1]);
}

/* Of the pictures of a fit: no sign's name falls off the picture. */
static void fit_legends(void) {
    static const char *const names[][2] = {
        {"forecast", "<text>test</text>"},
        {"forecast", "<text>predicted by the model, with its 90 % range<"},
        {"forecast", "<text>the test before<"},
        {"residuals", "<text>a test<"},
        {"residuals", "<text>from test to test<"},
        {"residuals", "<text>within 2 sigma"}};
    char *out, *err;
    const char *folder = test_folder();
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "tests.csv",
              "date,test,value\n2026-01-06,Jump height (cm),31.2\n"
              "2026-01-12,Jump height (cm),31.9\n"
              "2026-01-19,Jump height (cm),30.5\n"
              "2026-01-26,Jump height (cm),31.6\n"
              "2026-02-02,Jump height (cm),31.1\n"
              "2026-02-09,Jump height (cm),32.4\n");
    CU_ASSERT_EQUAL(run("fit @ --out @/out --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "-fitted.svg");
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char path[400];
        char *drawn;
        snprintf(path, sizeof path, "%s/out/wing-07-%s.svg", folder,
                 names[i][0]);
        drawn = test_read(path, NULL);
        ASSERT_HAS(drawn, names[i][1]);
        free(drawn);
    }
    free(out);
    free(err);
    test_folder_done();
}

enum { MANY = 36, LOAD_DAYS = 42 };

/* Everybody has a row of their own in the table of a squad, in order. */
static void many(void) {
    Text log = {0}, tests = {0};
    char *out, *err, row[40], *at;
    const char *folder = test_folder();
    text_add(&log, "date,athlete,load\n");
    text_add(&tests, "date,athlete,test,value\n");
    for (int i = 0; i < MANY; i++) {
        for (int day = 0; day < LOAD_DAYS; day++)
            text_add(&log, "2026-%02d-%02d,wing-%02d,%d\n", 1 + day / 28,
                     1 + day % 28, i, 100 + 100 * (day % 7) * (day / 7 % 3));
        text_add(&tests,
                 "2026-01-16,wing-%02d,Jump (cm),30\n"
                 "2026-01-30,wing-%02d,Jump (cm),%d\n",
                 i, i, 30 + i % 3);
    }
    test_file(0, "sessions.csv", text_of(&log));
    test_file(1, "tests.csv", text_of(&tests));
    text_free(&log);
    text_free(&tests);
    CU_ASSERT_EQUAL(run("fit @ --quiet", folder, &out, &err), 0);
    at = strstr(out, "athlete  tests");
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    for (int i = 0; i < MANY; i++) {
        snprintf(row, sizeof row, "\nwing-%02d      2 ", i);
        at = strstr(at, row);
        CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    }
    CU_ASSERT_PTR_NULL(strstr(at + 1, "\nwing-"));
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"fit_model", fit_model},
                                 {"kinds_tie", kinds_tie},
                                 {"fit_legends", fit_legends},
                                 {"fit_many", many},
                                 {NULL, NULL}};

const TestSuite suite_program_fit = {"program", cases};
