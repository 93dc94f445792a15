/* daily: loads day by day, gaps, clock times.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/daily.h"
#include "season/usual.h"

#include <math.h>

static void assert_kinds(const Daily *d, const char *wanted) {
    static const char letters[] = "trg?";
    char text[MOST + 1] = "";
    for (size_t i = 0; i < d->days && i < MOST; i++)
        text[i] = letters[d->kind[i]];
    ASSERT_TEXT(text, wanted);
}

static void daily_with_a_gap(void) {
    Daily d;
    read_log(gap_log);
    assert_no_errors();
    daily_build(season, 0, false, &d);
    CU_ASSERT_EQUAL(d.first, march(2));
    assert_values(d.load, d.days,
                  (const double[]){350.5, 0, 95, 0, 0, 0, 0, 0, 0, 0, 180}, 11);
    assert_kinds(&d, "trtrrrrrrrt");
    CU_ASSERT_EQUAL_FATAL(d.gap_count, 1);
    CU_ASSERT_EQUAL(d.gaps[0].from, 3);
    CU_ASSERT_EQUAL(d.gaps[0].days, 7);
    CU_ASSERT_EQUAL(d.trained, 3);
    CU_ASSERT_EQUAL(d.rest, 8);
    CU_ASSERT_EQUAL(d.filled, 0);
    CU_ASSERT_FALSE(d.timed);
    assert_values(d.time, d.impulses, (const double[]){0, 0, 2, 10}, 4);
    assert_values(d.dose, d.impulses, (const double[]){210, 140.5, 95, 180}, 4);
    for (size_t i = 0; i < d.days; i++)
        ASSERT_NEAR(d.reading[i], (double)i, 0);
    daily_free(&d);
    stop();
}

/* Means of the days outside the gap: Monday 350.5, Tuesday 0, Wednesday 95,
 * Thursday 180, none for the rest of the week. */
static void daily_with_a_gap_filled(void) {
    Daily d;
    read_log(gap_log);
    daily_build(season, 0, true, &d);
    assert_values(
        d.load, d.days,
        (const double[]){350.5, 0, 95, 180, 0, 0, 0, 350.5, 0, 95, 180}, 11);
    assert_kinds(&d, "trtgggggggt");
    CU_ASSERT_EQUAL(d.filled, 7);
    CU_ASSERT_EQUAL(d.trained, 3);
    CU_ASSERT_EQUAL(d.rest, 1);
    assert_values(d.time, d.impulses,
                  (const double[]){0, 0, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 11);
    assert_values(
        d.dose, d.impulses,
        (const double[]){210, 140.5, 95, 180, 0, 0, 0, 350.5, 0, 95, 180}, 11);
    daily_free(&d);
    stop();
}

/* Two Mondays outside the gap: (310 + 190.5)/2. */
static void gaps_get_means_of_several_weeks(void) {
    Daily d;
    read_log("date,load\n2026-03-02,310\n2026-03-09,190.5\n2026-03-10,60\n"
             "2026-03-18,75\n");
    /* 3 to 8 March: six days, no gap; 11 to 17 March: seven */
    daily_build(season, 0, true, &d);
    CU_ASSERT_EQUAL_FATAL(d.gap_count, 1);
    CU_ASSERT_EQUAL(d.gaps[0].from, 9);
    CU_ASSERT_EQUAL(d.gaps[0].days, 7);
    /* wed: 0 (4th) and 75 (18th); thu to sun 0; tue: 0 (3rd) and 60 */
    assert_values(d.load + 9, 7, (const double[]){37.5, 0, 0, 0, 0, 250.25, 30},
                  7);
    daily_free(&d);
    stop();
}

static void six_days_are_no_gap(void) {
    Daily d;
    read_log("date,load\n2026-03-04,95\n2026-03-11,180\n");
    daily_build(season, 0, true, &d);
    CU_ASSERT_EQUAL(d.days, 8);
    CU_ASSERT_EQUAL(d.gap_count, 0);
    CU_ASSERT_EQUAL(d.filled, 0);
    CU_ASSERT_EQUAL(d.rest, 6);
    daily_free(&d);
    stop();
}

/* Lark stopped on day 2, and what others log is no rest of theirs; Wren begins
 * on day 10 and ends there. A row of 0 is a day without training that somebody
 * wrote down: no gap. */
static void days_of_each_athlete(void) {
    Daily d;
    read_log("date,athlete,load\n2026-03-02,Kite,95\n2026-03-02,Lark,70.5\n"
             "2026-03-06,Kite,0\n2026-03-11,Wren,33\n2026-03-12,Kite,180\n");
    daily_build(season, index_of("Lark"), false, &d);
    CU_ASSERT_EQUAL(d.days, 1);
    CU_ASSERT_EQUAL(d.gap_count, 0);
    daily_free(&d);
    daily_build(season, index_of("Wren"), false, &d);
    CU_ASSERT_EQUAL(d.first, march(11));
    CU_ASSERT_EQUAL(d.days, 1);
    daily_free(&d);
    daily_build(season, index_of("Kite"), false, &d);
    CU_ASSERT_EQUAL(d.gap_count, 0);
    CU_ASSERT_EQUAL(d.trained, 2);
    CU_ASSERT_EQUAL(d.rest, 9);
    daily_free(&d);
    stop();
}

static void daily_not_recorded(void) {
    Daily d;
    read_log("date,load\n2026-03-02,95\n2026-03-03,60\n2026-03-03,\n"
             "2026-03-09,45.5\n2026-03-10,31\n");
    daily_build(season, 0, false, &d);
    assert_values(d.load, d.days,
                  (const double[]){95, NAN, 0, 0, 0, 0, 0, 45.5, 31}, 9);
    assert_kinds(&d, "t?rrrrrtt");
    CU_ASSERT_EQUAL(d.unrecorded, 1);
    CU_ASSERT_EQUAL(d.trained, 3);
    CU_ASSERT_EQUAL(d.rest, 5);
    daily_free(&d);
    stop();
}

/* Minutes after midnight / 1440; no time is noon. A day is read at its first
 * session, a day of rest at noon. */
static void daily_with_clock_times(void) {
    Daily d;
    read_log("date,time,load\n2026-03-02,18:00,120\n2026-03-02,07:30,80\n"
             "2026-03-03,,60\n2026-03-05,09:15,40\n2026-03-05,,25\n");
    assert_no_errors();
    daily_build(season, 0, false, &d);
    CU_ASSERT_TRUE(d.timed);
    assert_values(d.time, d.impulses,
                  (const double[]){.3125, .75, 1.5, 3 + 555 / 1440., 3.5}, 5);
    assert_values(d.dose, d.impulses, (const double[]){80, 120, 60, 40, 25}, 5);
    assert_values(d.reading, d.days,
                  (const double[]){.3125, 1.5, 2.5, 3 + 555 / 1440.}, 4);
    assert_values(d.load, d.days, (const double[]){200, 60, 0, 65}, 4);
    daily_free(&d);
    stop();
}

/* One athlete's clock times do not move the days of another. */
static void clock_times_of_another(void) {
    Daily d;
    read_log("date,athlete,time,load\n2026-03-02,Kite,18:00,120\n"
             "2026-03-02,Lark,,80\n2026-03-04,Lark,,70.5\n");
    daily_build(season, index_of("Lark"), false, &d);
    CU_ASSERT_FALSE(d.timed);
    assert_values(d.time, d.impulses, (const double[]){0, 2}, 2);
    assert_values(d.reading, d.days, (const double[]){0, 1, 2}, 3);
    daily_free(&d);
    stop();
}

/* (300.3 + 147.7)/28: 29 March is the 28th day, 30 March no longer counts. */
static void mean_before_the_log(void) {
    Daily d;
    read_log("date,load\n2026-03-02,300.3\n2026-03-29,147.7\n"
             "2026-03-30,999\n");
    daily_build(season, 0, false, &d);
    ASSERT_NEAR(daily_first_mean(&d), 16, 1e-12);
    daily_free(&d);
    stop();
    read_log("date,load\n2026-03-02,50.5\n2026-03-04,30.5\n");
    daily_build(season, 0, false, &d);
    ASSERT_NEAR(daily_first_mean(&d), 27, 1e-12);
    daily_free(&d);
    stop();
}

static void athlete_without_sessions(void) {
    Daily d;
    read_with("athletes.csv", "athlete\nLark\n");
    daily_build(season, index_of("Lark"), true, &d);
    CU_ASSERT_EQUAL(d.days, 0);
    CU_ASSERT_EQUAL(d.impulses, 0);
    ASSERT_NEAR(daily_first_mean(&d), 0, 0);
    daily_free(&d);
    build_usual("Lark");
    ASSERT_NEAR(usual_week_load(&usual), 0, 0);
    usual_free(&usual);
    stop();
}

static const TestCase cases[] = {
    {"daily_with_a_gap", daily_with_a_gap},
    {"daily_with_a_gap_filled", daily_with_a_gap_filled},
    {"gaps_get_means_of_several_weeks", gaps_get_means_of_several_weeks},
    {"six_days_are_no_gap", six_days_are_no_gap},
    {"days_of_each_athlete", days_of_each_athlete},
    {"daily_not_recorded", daily_not_recorded},
    {"daily_with_clock_times", daily_with_clock_times},
    {"clock_times_of_another", clock_times_of_another},
    {"mean_before_the_log", mean_before_the_log},
    {"athlete_without_sessions", athlete_without_sessions},
    {NULL, NULL}};

const TestSuite suite_season_daily = {"season", cases};
