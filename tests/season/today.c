/* today: what --today leaves out.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/daily.h"

static const char today_log[] =
    "date,athlete,load\n2026-03-09,Kite,44\n2026-03-02,Kite,11.5\n"
    "2026-03-04,Kite,22\n2026-03-06,Kite,33\n2026-03-07,Lark,55\n";

static void today_before_the_last_day(void) {
    Daily d;
    start();
    options.today = march(5);
    file("sessions.csv", today_log);
    look();
    assert_no_errors();
    LOADS("Kite", 11.5, 22);
    CU_ASSERT_EQUAL(athlete("Lark")->session_count, 0);
    CU_ASSERT_EQUAL(season->today, march(5));
    assert_place(test_note(&notes, "3 sessions after --today 2026-03-05"),
                 "notice sessions.csv:0: -");
    daily_build(season, index_of("Kite"), false, &d);
    assert_values(d.load, d.days, (const double[]){11.5, 0, 22}, 3);
    CU_ASSERT_EQUAL(season->last, march(4));
    daily_free(&d);
    stop();
}

static void today_at_and_after_the_end(void) {
    for (int day = 9; day <= 20; day += 11) {
        start();
        options.today = march(day);
        file("sessions.csv", today_log);
        look();
        assert_no_errors();
        CU_ASSERT_EQUAL(notes.count, 0);
        LOADS("Kite", 11.5, 22, 33, 44);
        CU_ASSERT_EQUAL(season->today, march(day));
        CU_ASSERT_EQUAL(season->last, march(9));
        stop();
    }
}

static void today_before_the_log(void) {
    start();
    options.today = march(1);
    file("sessions.csv", today_log);
    look();
    CU_ASSERT_EQUAL(notes.errors, 1);
    assert_place(test_note(&notes, "expected a later day"),
                 "error sessions.csv:0: -");
    stop();
}

/* What is left out may not lend its load to --fill: median of 11 and 22. */
static void today_and_fill(void) {
    start();
    options.today = march(4);
    options.fill = true;
    file("sessions.csv", "date,load\n2026-03-02,11\n2026-03-03,\n"
                         "2026-03-04,22\n2026-03-05,9000\n2026-03-06,9000\n");
    look();
    assert_no_errors();
    LOADS("athlete", 11, 16.5, 22);
    stop();
}

static const TestCase cases[] = {
    {"today_before_the_last_day", today_before_the_last_day},
    {"today_at_and_after_the_end", today_at_and_after_the_end},
    {"today_before_the_log", today_before_the_log},
    {"today_and_fill", today_and_fill},
    {NULL, NULL}};

const TestSuite suite_season_today = {"season", cases};
