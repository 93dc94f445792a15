/* read_tests: tests and which way is better.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/season.h"

#include <math.h>

static void tests_file(void) {
    const Athlete *a;
    read_with("tests.csv",
              "date,athlete,test,value,error,better,when\n"
              "2026-03-09,Kite,sprint,4.13,.05,LOWER,after\n"
              "2026-03-01,Kite,jump,38.5,,higher,before\n"
              "2026-03-05,Lark,jump,-1.25,,,\n2026-03-05,Kite,jump,39,1.5,,\n");
    assert_no_errors();
    a = athlete("Kite");
    CU_ASSERT_EQUAL_FATAL(a->test_count, 3);
    CU_ASSERT_EQUAL(a->tests[0].date, march(1));
    CU_ASSERT_EQUAL(a->tests[1].date, march(5));
    CU_ASSERT_EQUAL(a->tests[2].date, march(9));
    ASSERT_NEAR(a->tests[0].value, 38.5, 0);
    CU_ASSERT_TRUE(isnan(a->tests[0].error));
    CU_ASSERT_FALSE(a->tests[0].lower_better || a->tests[0].after);
    ASSERT_NEAR(a->tests[1].error, 1.5, 0);
    ASSERT_NEAR(a->tests[2].value, 4.13, 0);
    ASSERT_NEAR(a->tests[2].error, .05, 0);
    CU_ASSERT_TRUE(a->tests[2].lower_better && a->tests[2].after);
    ASSERT_TEXT(season->test_names.items[a->tests[2].test], "sprint");
    ASSERT_TEXT(season->test_names.items[a->tests[0].test], "jump");
    CU_ASSERT_EQUAL(a->tests[0].test, a->tests[1].test);
    CU_ASSERT_EQUAL(athlete("Lark")->test_count, 1);
    ASSERT_NEAR(athlete("Lark")->tests[0].value, -1.25, 0);
    stop();
}

/* The rows that say which way is better say it for the others of that name. */
static void tests_better_said_once(void) {
    read_with("tests.csv", "date,athlete,test,value,better\n"
                           "2026-03-01,Kite,sprint,4.21,\n"
                           "2026-03-02,Kite,sprint,4.13,lower\n"
                           "2026-03-03,Lark,sprint,4.37,\n"
                           "2026-03-03,Lark,crunches (stable),37,\n"
                           "2026-03-04,Lark,runway clearance (m),1.1,\n");
    assert_no_errors();
    CU_ASSERT_TRUE(athlete("Kite")->tests[0].lower_better);
    CU_ASSERT_TRUE(athlete("Kite")->tests[1].lower_better);
    CU_ASSERT_EQUAL(athlete("Kite")->tests[1].line, 3);
    CU_ASSERT_TRUE(athlete("Lark")->tests[0].lower_better);
    CU_ASSERT_FALSE(athlete("Lark")->tests[1].lower_better);
    CU_ASSERT_FALSE(athlete("Lark")->tests[2].lower_better);
    stop();
}

static void tests_of_one_athlete(void) {
    start();
    file("sessions.csv", "date,load\n2026-03-02,231.5\n");
    file("tests.csv", "date,test,value\n2026-03-02,jump,38.5\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(season->athlete_count, 1);
    CU_ASSERT_EQUAL(season->athletes[0].test_count, 1);
    stop();
}

static const TestCase cases[] = {
    {"tests_file", tests_file},
    {"tests_better_said_once", tests_better_said_once},
    {"tests_of_one_athlete", tests_of_one_athlete},
    {NULL, NULL}};

const TestSuite suite_season_read_tests = {"season", cases};
