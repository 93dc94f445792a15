/* fit: fits, what tests do not tell, and their pictures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void fit(void) {
    static const char *const tests =
        "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
        "2026-01-26,wing-07,Jump,31.9\n2026-02-09,wing-07,Jump,32.3\n";
    static const Row rows[] = {
        {"fit @", NULL, NULL, 1,
         "no athlete has tests to fit; expected rows in tests.csv on days of a "
         "log whose load varies",
         NULL},
        {"fit @ --test Sprint", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n", 1,
         "no athlete has tests named Sprint to fit", NULL},
        {"fit @ --quiet", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
         "2026-01-12,wing-07,Jump,31.6\n",
         0, NULL, "2 tests of Jump"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-07,wing-07,Jump,31\n"
         "2026-01-12,wing-07,Jump,31\n2026-01-16,wing-07,Jump,31\n"
         "2026-01-20,wing-07,Jump,31\n2026-01-24,wing-07,Jump,31\n"
         "2026-01-30,wing-07,Jump,31\n",
         0, NULL, "These 6 tests all read the same"},
        {"fit @", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
         "2026-01-16,wing-07,Jump,32\n2026-01-20,wing-07,Jump,.32\n",
         0,
         "'Jump' of 'wing-07' on 2026-01-20 is 0.32 where the median is 31.2; "
         "is it in another unit?",
         "3 tests of Jump"},
        {"fit @ --model classic", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n"
         "2026-05-16,wing-07,Jump,32\n",
         0, "1 test outside the days of the log (2026-05-16) left out",
         "1 test of Jump"},
        {"fit @",
         "date,athlete,load\n2026-01-05,wing-07,0\n"
         "2026-02-05,wing-07,0\n",
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n", 1,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants",
         NULL},
        {"taper @ --gaps typical --notes",
         "date,athlete,load\n2026-02-02,wing-07,300\n"
         "2026-02-03,wing-07,300\n2026-02-04,wing-07,300\n"
         "2026-02-05,wing-07,300\n",
         "tests.csv|date,athlete,test,value\n2026-02-03,wing-07,Jump,31.2\n", 0,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants; the literature is used alone",
         "Model (default): literature"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,athlete,test,value\n2026-01-12,wing-07,Jump,31.2\n", 0,
         NULL, "1 test cannot tell 5 parameters apart"},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\np0,3\nk1,1\ntau1,9\n"
         "draws,../x.csv\n",
         1, "own.csv:6: value: '../x.csv', expected the name of a file beside",
         NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,one-component\np0,3\nk1,1\ntau1,9\n"
         "draws,none.csv\n",
         3, "none.csv: cannot be opened: No such file", NULL},
        {"taper @ --model @/own.csv", NULL,
         "own.csv|parameter,value\nkind,delayed\np0,3\nk1,1\nk2,2\ntau1,9\n"
         "tau2,3\ntau_rise,10\n",
         1, "tau1 '9' is not above tau_rise '10', expected fitness to fade",
         NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    const char *folder;
    char *out, *err;
    run_rows(rows);
    /* a model written by fit gives another command the same answer as the
     * tests themselves */
    folder = test_folder();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "tests.csv", strchr(tests, '|') + 1);
    CU_ASSERT_EQUAL(run("fit @ --out @/out --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "/out/wing-07-model.csv");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --csv --quiet", folder, &out, &err), 0);
    {
        char *again;
        free(err);
        CU_ASSERT_EQUAL(
            run("taper @ --csv --quiet --model @/out/wing-07-model.csv", folder,
                &again, &err),
            0);
        test_same_table(out, again);
        free(again);
    }
    free(out);
    free(err);
    test_folder_done();
}

/* Of the pictures of a fit: no sign's name falls off the picture. */
static void fit_legends(void) {
    static const char *const names[][2] = {
        {"forecast", "<text>test</text>"},
        {"forecast", "<text>predicted by the model, with its 5-95 % range<"},
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

/* Tests that tell little or nothing, and what is said of them. */
static void poor_tests(void) {
    static const char *const loads[2] = {"0", "300"};
    static char flat[2][2000];
    const Row rows[] = {
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n"
         "2026-01-12,Jump,31.9\n2026-02-02,Jump,30.5\n",
         0, NULL, "wing-07: 3 tests of Jump"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value\n2026-01-07,Jump,31.2\n"
         "2026-01-12,Jump,31.2\n2026-01-16,Jump,31.2\n"
         "2026-01-21,Jump,31.2\n2026-01-26,Jump,31.2\n"
         "2026-02-02,Jump,31.2\n2026-02-09,Jump,31.2\n",
         0, NULL, "These 7 tests all read the same, so they show no effect of"},
        {"fit @", flat[0], "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n",
         1,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants, and this athlete is left out",
         NULL},
        {"fit @", flat[1], "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n",
         1,
         "the load hardly varies over the log, so the tests tell nothing of "
         "time constants, and this athlete is left out",
         NULL},
        {"fit @", NULL,
         "tests.csv|date,test,value,error\n2026-01-12,Jump,31.2,0\n", 1,
         "tests.csv:2: error: '0', expected a number from 1e-09 to 1e+09",
         NULL},
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value\n2026-01-12,Jump,31.2\n"
         "2026-02-02,Jump,30.5\n",
         0, NULL, "2 tests cannot tell 5 parameters apart, so there is no"},
        {"fit @", NULL, "tests.csv|date,test,value\n2025-12-31,Jump,31.2\n", 1,
         "wing-07: warning: has no tests in the days of the log and is left "
         "out",
         NULL},
        {"fit @ --test Sprint", NULL,
         "tests.csv|date,test,value,better\n2026-01-12,Jump,31.2,\n"
         "2025-12-31,Sprint,3.1,lower\n",
         1,
         "wing-07: warning: has no tests of Sprint in the days of the log and "
         "is left out",
         NULL},
        {"fit @", NULL,
         "tests.csv|date,test,value\n2025-12-31,Jump,31.2\n"
         "2026-01-12,Jump,31.9\n2026-04-02,Jump,30.5\n",
         0,
         "wing-07: warning: 2 tests outside the days of the log (2025-12-31 "
         "the "
         "first) left out",
         "wing-07: 1 test of Jump"},
        {"check @ --csv", NULL,
         "tests.csv|date,test,value\n2026-01-07,Jump,.38\n"
         "2026-01-12,Jump,38\n2026-01-16,Jump,.39\n2026-01-21,Jump,.385\n",
         0, NULL, "is 38 where the median is"},
        {"fit @ --quiet", NULL,
         "tests.csv|date,test,value,error\n2026-01-07,Jump,38,.1\n"
         "2026-01-12,Jump,39,.1\n2026-01-16,Jump,380,.1\n"
         "2026-01-21,Jump,37,.1\n2026-01-26,Jump,38.5,.1\n",
         0, NULL, "look for a slip among the tests"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    for (int i = 0; i < 2; i++) {
        size_t at =
            (size_t)snprintf(flat[i], sizeof flat[i], "date,athlete,load\n");
        for (int day = 5; day < 31; day++)
            at += (size_t)snprintf(flat[i] + at, sizeof flat[i] - at,
                                   "2026-01-%02d,wing-07,%s\n", day, loads[i]);
    }
    run_rows(rows);
}

static const TestCase cases[] = {{"fit", fit},
                                 {"poor_tests", poor_tests},
                                 {"fit_legends", fit_legends},
                                 {NULL, NULL}};

const TestSuite suite_program_fit = {"program", cases};
