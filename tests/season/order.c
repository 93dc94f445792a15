/* order: the order of rows is no matter.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "base/text.h"
#include "season/daily.h"

enum { ROWS = 36 };

/* 36 rows over 18 days: three athletes, some days with two rows. */
static void write_rows(const size_t order[ROWS]) {
    static const char *const who[] = {"Kite", "Lark", "Wren"};
    static const char *const kind[] = {"gym", "skill", "", "match"};
    Text text = {0};
    text_add(&text, "date,athlete,kind,load\n");
    for (size_t k = 0; k < ROWS; k++) {
        size_t i = order[k];
        text_add(&text, "2026-03-%02zu,%s,%s,%zu.%zu\n", 2 + i * 7 % 18,
                 who[i % 3], kind[i % 4], 30 + i * 37 % 200, i % 10);
    }
    file("sessions.csv", text_of(&text));
    text_free(&text);
}

static void read_rows(size_t step, Daily days[3]) {
    size_t order[ROWS];
    start();
    for (size_t i = 0; i < ROWS; i++)
        order[i] = (i * step + step / 2) % ROWS;
    write_rows(order);
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->athlete_count, 3);
    for (size_t i = 0; i < 3; i++)
        daily_build(season, i, true, &days[i]);
}

/* Blanks that stay around a name: in quotation marks, or no-break spaces. */
static void blanks_around_names(void) {
    read_log("date,athlete,session,load\n2026-03-02,\" Kite \",\" Gym\",11.5\n"
             "2026-03-03,Kite,Gym,44\n2026-03-04,Wren\xC2\xA0,Run,7\n"
             "2026-03-05,\"Wren\n\",Run,8\n");
    assert_no_errors();
    LOADS("Kite", 11.5, 44);
    LOADS("Wren", 7, 8);
    stop();
}

static void a_stray_year(void) {
    read_log("date,athlete,load\n2026-03-02,Kite,1\n2026-03-03,Kite,1\n"
             "2026-03-04,Kite,1\n2026-03-05,Kite,1\n2062-03-06,Kite,1\n");
    CU_ASSERT_EQUAL(notes.errors, 1);
    assert_place(test_note(&notes, "'2062-03-06' lies more than a year"),
                 "error sessions.csv:6: date");
    stop();
}

/* Steps that share no factor with 36 visit every row once. */
static void order_of_rows_is_no_matter(void) {
    static const size_t steps[] = {5, 7, 11, 17, 35};
    static const char *const names[] = {"Kite", "Lark", "Wren"};
    Daily once[3], again[3];
    read_rows(1, once);
    CU_ASSERT_EQUAL(season->session_count, ROWS);
    stop();
    for (size_t k = 0; k < sizeof steps / sizeof steps[0]; k++) {
        read_rows(steps[k], again);
        for (size_t i = 0; i < 3; i++) {
            ASSERT_TEXT(season->athletes[i].name, names[i]);
            CU_ASSERT_EQUAL(again[i].first, once[i].first);
            assert_values(again[i].load, again[i].days, once[i].load,
                          once[i].days);
            assert_values(again[i].time, again[i].impulses, once[i].time,
                          once[i].impulses);
            daily_free(&again[i]);
        }
        stop();
    }
    for (size_t i = 0; i < 3; i++)
        daily_free(&once[i]);
}

/* Tests of one day, in each of the 24 orders of their rows: those before the
 * sessions first, kinds together, and within a kind by value, so that sums over
 * them come out alike. */
static void order_of_tests_is_no_matter(void) {
    static const char *const rows[] = {"jump,31,before", "throw,4,before",
                                       "jump,30,before", "jump,29,after"};
    for (int k = 0; k < 24; k++) {
        int order[] = {k / 6, k / 2 % 3, k % 2, 0};
        bool taken[4] = {false};
        Text text = {0};
        const Test *test;
        text_add(&text, "date,test,value,when\n");
        for (int i = 0; i < 4; i++) {
            int at = 0;
            for (int free = order[i]; taken[at] || free-- > 0; at++)
                ;
            taken[at] = true;
            text_add(&text, "2026-03-04,%s\n", rows[at]);
        }
        start();
        file("sessions.csv", "date,load\n2026-03-02,70\n2026-03-03,80\n");
        file("tests.csv", text_of(&text));
        look();
        assert_no_errors();
        CU_ASSERT_EQUAL_FATAL(season->athletes[0].test_count, 4);
        test = season->athletes[0].tests;
        for (int i = 0; i < 2; i++)
            CU_ASSERT(test[i].test < test[i + 1].test ||
                      (test[i].test == test[i + 1].test &&
                       test[i].value < test[i + 1].value));
        CU_ASSERT(!test[2].after && test[3].after);
        ASSERT_NEAR(test[3].value, 29, 0);
        text_free(&text);
        stop();
    }
}

/* One row out of 30 that steps back looks like a typed month. */
static void one_row_out_of_order(void) {
    Text text = {0};
    text_add(&text, "date,load\n");
    for (int i = 1; i <= 30; i++)
        text_add(&text, "2026-%02d-%02d,%d.5\n", i == 20 ? 2 : 3, i, 50 + i);
    read_log(text_of(&text));
    text_free(&text);
    assert_no_errors();
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "out of date order"), 1);
    assert_place(test_note(&notes, "2026-02-20 follows 2026-03-19"),
                 "warning sessions.csv:21: date");
    CU_ASSERT_EQUAL(season->first, date_of((Civil){2026, 2, 20}));
    stop();
}

static const TestCase cases[] = {
    {"blanks_around_names", blanks_around_names},
    {"a_stray_year", a_stray_year},
    {"order_of_rows_is_no_matter", order_of_rows_is_no_matter},
    {"order_of_tests_is_no_matter", order_of_tests_is_no_matter},
    {"one_row_out_of_order", one_row_out_of_order},
    {NULL, NULL}};

const TestSuite suite_season_order = {"season", cases};
