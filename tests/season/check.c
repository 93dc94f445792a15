/* check: what the check finds in files that can be read.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "base/text.h"
#include "season/alike.h"
#include "season/check.h"

#include <math.h>

static void check_log(const char *log) {
    read_log(log);
    check_season(season, &notes);
    assert_no_errors();
}

static void check_finds_rows_twice(void) {
    check_log("date,athlete,time,session,kind,load\n"
              "2026-03-02,Kite,,squats,gym,231.5\n"
              "2026-03-02,Kite,,squats,gym,231.5\n"
              "2026-03-03,Kite,07:30,squats,gym,231.5\n"
              "2026-03-03,Kite,17:30,squats,gym,231.5\n"
              "2026-03-04,Kite,,squats,gym,231.5\n"
              "2026-03-04,Lark,,squats,gym,231.5\n"
              "2026-03-05,Kite,,squats,gym,231.5\n"
              "2026-03-05,Kite,,squats,gym,231\n"
              "2026-03-06,Kite,,squats,gym,231.5\n"
              "2026-03-06,Kite,,pulls,gym,231.5\n");
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "the same as line"), 1);
    assert_place(test_note(&notes, "the same as line 2"),
                 "warning sessions.csv:3: -");
    stop();
}

/* The order of the rows of a day must not hide it. */
static void check_finds_rows_twice_apart(void) {
    check_log("date,session,load\n2026-03-02,squats,231.5\n"
              "2026-03-02,pulls,90\n2026-03-02,squats,231.5\n");
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "the same as line"), 1);
    assert_place(test_note(&notes, "the same as line 2"),
                 "warning sessions.csv:4: -");
    stop();
}

/* Eight sessions 100 ... 107 and the one asked about: the median is 104, four
 * times that 416 (the factor is common practice, no source). */
static void check_finds_large_loads(void) {
    for (int load = 416; load <= 417; load++) {
        Text text = {0};
        text_add(&text, "date,kind,load\n");
        for (int i = 0; i < 8; i++)
            text_add(&text, "2026-03-%02d,gym,%d\n", 2 + i, 100 + i);
        text_add(&text, "2026-03-10,gym,%d\n2026-03-11,match,3000\n", load);
        check_log(text_of(&text));
        text_free(&text);
        CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "is it typed right?"),
                        load == 417);
        if (load == 417)
            assert_place(test_note(&notes, "a load of 417"),
                         "warning sessions.csv:10: -");
        stop();
    }
}

static void check_finds_gaps(void) {
    check_log(gap_log);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "has no row for"), 1);
    assert_place(
        test_note(&notes, "no row for 7 days, 2026-03-05 to 2026-03-11"),
        "warning sessions.csv:0: date");
    stop();
    check_log("date,load\n2026-03-04,95\n2026-03-11,180\n");
    CU_ASSERT_EQUAL(notes.count, 0);
    stop();
}

static void check_finds_athletes_without_sessions(void) {
    read_with("athletes.csv", "athlete\nKite\nLark\n");
    check_season(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "has no sessions"), 1);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'Lark' has no sessions"));
    stop();
}

static void check_finds_tests_outside(void) {
    start();
    file("sessions.csv", "date,load\n2026-03-02,95\n2026-03-06,80\n");
    file("tests.csv", "date,test,value\n2026-03-01,jump,31.5\n"
                      "2026-03-02,jump,32.5\n2026-03-06,jump,33.5\n"
                      "2026-03-07,jump,34.5\n");
    look();
    check_season(season, &notes);
    assert_no_errors();
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "a test of"), 2);
    assert_place(test_note(&notes, "on 2026-03-01 lies before the log"),
                 "warning tests.csv:0: date");
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "2026-03-07 lies after the log"));
    stop();
}

/* Camp 10 to 12 April, Cup from the 12th, Late from the 13th. */
static void check_finds_events_that_overlap(void) {
    read_with("events.csv", "event,start,days,athlete\nCamp,2026-04-10,3,\n"
                            "Cup,2026-04-12,1,Kite\nLate,2026-04-13,1,\n"
                            "Hers,2026-05-01,4,Lark\nHis,2026-05-02,1,Kite\n"
                            "Past,2026-03-01,1,\nNow,2026-03-02,2,\n");
    check_season(season, &notes);
    assert_no_errors();
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "share days"), 1);
    assert_place(test_note(&notes, "'Camp' and 'Cup' share days, expected"),
                 "warning events.csv:3: start");
    CU_ASSERT_EQUAL(count_notes(LEVEL_NOTICE, "is over"), 1);
    assert_place(test_note(&notes, "'Past' (2026-03-01) is over"),
                 "notice events.csv:7: start");
    stop();
}

static void check_finds_exercises_without_session(void) {
    start();
    file("sessions.csv", "date,load\n2026-03-02,95\n");
    file("week.csv", "weekday,session,load\nmon,Legs,95\n");
    file("exercises.csv", "session,exercise,sets,reps\nlegs,squat,3,5\n"
                          "arms,curl,3,7\n");
    look();
    check_season(season, &notes);
    assert_no_errors();
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "a session of neither week.csv"),
                    1);
    assert_place(test_note(&notes, "'arms' is a session of neither"),
                 "warning exercises.csv:3: session");
    stop();
}

/* A row of totals that bears a date is an athlete with one session. */
static void check_doubts_totals(void) {
    Text text = {0};
    char day[DATE_TEXT];
    text_add(&text, "date,athlete,load\n");
    for (int i = 0; i < 20; i++)
        text_add(&text, "%s,Kite,%d\n",
                 date_write(day, date_of((Civil){2026, 3, 2}) + i), 300 + i);
    text_add(&text, "2026-03-21,Sum,6190\n");
    start();
    file("sessions.csv", text_of(&text));
    look();
    check_season(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "is it a row of totals?"), 1);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'Sum' has one session only"));
    stop();
    text_free(&text);
}

/* Sixty answers of 3 on a scale from 1 to 5, two of 2, one of 5: none is a slip
 * of the pen, though all others are alike. */
static void check_takes_answers_as_they_are(void) {
    Text tests = {0};
    text_add(&tests, "date,athlete,test,value\n");
    for (int i = 0; i < 63; i++)
        text_add(&tests, "2026-%02d-%02d,Kite,mood,%d\n", 1 + i / 28,
                 1 + i % 28,
                 i == 7 || i == 30 ? 2
                 : i == 50         ? 5
                                   : 3);
    start();
    file("sessions.csv", "date,athlete,load\n2026-01-01,Kite,10\n"
                         "2026-03-28,Kite,10\n");
    file("tests.csv", text_of(&tests));
    look();
    check_all_tests(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "far from their others"), 0);
    stop();
    text_free(&tests);
}

/* Ten values about 34 (MAD .2, hand-made: 33.8 34 34.2 ...), one 345: a comma
 * that was forgotten; and Lark's in metres. */
static void check_finds_values_far_off(void) {
    Text tests = {0};
    text_add(&tests, "date,athlete,test,value\n");
    for (int i = 0; i < 9; i++)
        text_add(&tests, "2026-03-0%d,Kite,jump,%g\n", 1 + i % 8,
                 33.8 + 0.2 * (i % 3));
    text_add(&tests, "2026-03-08,Kite,jump,39\n2026-03-08,Kite,jump,35\n"
                     "2026-03-03,Wren,jump,33\n2026-03-03,Lark,jump,0.34\n");
    start();
    file("sessions.csv", "date,athlete,load\n2026-03-01,Kite,10\n"
                         "2026-03-01,Lark,10\n2026-03-01,Wren,10\n"
                         "2026-03-08,Kite,10\n");
    file("tests.csv", text_of(&tests));
    look();
    check_all_tests(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "far from their others"), 1);
    assert_place(test_note(&notes, "'jump' of 'Kite' is 39, far from"),
                 "warning tests.csv:11: value");
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "where the squad's is about"),
                    1);
    CU_ASSERT_PTR_NOT_NULL(
        test_note(&notes, "'Lark' is about 0.34 where the squad's is about"));
    stop();
    text_free(&tests);
}

/* Sessions of 241 minutes but not of 240; who rates ten of ten sessions 10, and
 * who one less than nine of ten; a test on the day of a match. */
static void check_finds_odd_sessions(void) {
    Text log = {0};
    text_add(&log, "date,athlete,kind,minutes,rpe\n"
                   "2026-03-01,Kite,match,241,10\n");
    for (int i = 2; i < 11; i++)
        text_add(&log, "2026-03-%02d,Kite,gym,240,10\n", i);
    for (int i = 1; i < 11; i++)
        text_add(&log, "2026-03-%02d,Lark,gym,60,%d\n", i, i < 3 ? 5 : 0);
    start();
    file("sessions.csv", text_of(&log));
    file("tests.csv", "date,athlete,test,value,when\n"
                      "2026-03-01,Kite,jump,34,\n2026-03-01,Kite,run,9,after\n"
                      "2026-03-01,Kite,lift,50,before\n"
                      "2026-03-02,Kite,jump,34,\n");
    look();
    check_season(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "minutes in one session"), 1);
    assert_place(test_note(&notes, "241 minutes in one session of 'Kite'"),
                 "warning sessions.csv:2: minutes");
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "sessions 0 or 10"), 1);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "'Kite' rates 10 of 10 sessions"));
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "a match day"), 1);
    assert_place(test_note(&notes, "'Kite' on 2026-03-01, a match day"),
                 "warning tests.csv:2: date");
    stop();
    text_free(&log);
}

/* Eight weeks of 7 x 100 from Monday 2026-01-05, the last with 1,401. */
static void check_finds_large_weeks(void) {
    for (int last = 800; last <= 801; last++) {
        Text log = {0};
        char day[DATE_TEXT];
        text_add(&log, "date,athlete,load\n");
        for (int i = 0; i < 56; i++)
            text_add(&log, "%s,Kite,%d\n",
                     date_write(day, date_of((Civil){2026, 1, 5}) + i),
                     i == 55 ? last : 100);
        check_log(text_of(&log));
        CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "twice their median week"),
                        last == 801);
        stop();
        text_free(&log);
    }
}

/* What people type for one name; and names that are two. Unicode's own
 * examples of composed and decomposed letters (UAX #15, figure 3, A with ring),
 * a ligature (fi), a full-width letter, sharp s and its capitals. */
static void names_look_alike(void) {
    static const struct {
        const char *a, *b;
        bool alike;
    } pairs[] = {
        {"MID-8", "MID 8", true},
        {"MID-8", "mid_8", true},
        {"MID-8", "MID8", true},
        {"MID-8", "MID-80", false},
        {"MID-8", "MID-9", false},
        {"\xC3\x85sa", "A\xCC\x8Asa", true},
        {"\xC3\x85sa", "Asa", false},
        {"\xE2\x80\x8B"
         "Ada",
         "Ada", true}, /* zero-width space */
        {"\xE2\x80\x8F"
         "Ada",
         "Ada", true},                    /* right-to-left mark */
        {"\xEF\xAC\x81nn", "finn", true}, /* ligature */
        {"\xEF\xBC\xA1"
         "da",
         "ada", true},                  /* full-width A */
        {"Wei\xC3\x9F", "WEISS", true}, /* sharp s */
        {"Ada", "Ada", false},          /* the same name */
        {"?", "!", false},              /* no letters */
        {"A\xFF", "a", true},           /* no UTF-8: left out */
        {"Ada", "", false},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        CU_ASSERT_EQUAL(alike_names(pairs[i].a, pairs[i].b), pairs[i].alike);
        CU_ASSERT_EQUAL(alike_names(pairs[i].b, pairs[i].a), pairs[i].alike);
    }
}

static void check_finds_nothing_amiss(void) {
    start();
    file("sessions.csv", week_log);
    file("athletes.csv", "athlete,sex\nKite,f\nLark,m\n");
    file("tests.csv", "date,athlete,test,value\n2026-03-04,Kite,jump,31.5\n");
    file("events.csv", "event,start\nCup,2026-04-12\nFinal,2026-04-13\n");
    file("week.csv", "weekday,session,kind\nmon,squats,gym\n");
    file("exercises.csv", "session,exercise,sets,reps,kg\nsquats,squat,3,5,82.5"
                          "\n");
    look();
    check_season(season, &notes);
    CU_ASSERT_EQUAL(notes.count, 0);
    stop();
}

static const TestCase cases[] = {
    {"check_finds_rows_twice", check_finds_rows_twice},
    {"check_finds_rows_twice_apart", check_finds_rows_twice_apart},
    {"check_finds_large_loads", check_finds_large_loads},
    {"check_finds_gaps", check_finds_gaps},
    {"check_finds_athletes_without_sessions",
     check_finds_athletes_without_sessions},
    {"check_finds_tests_outside", check_finds_tests_outside},
    {"check_finds_events_that_overlap", check_finds_events_that_overlap},
    {"check_finds_exercises_without_session",
     check_finds_exercises_without_session},
    {"check_doubts_totals", check_doubts_totals},
    {"check_finds_values_far_off", check_finds_values_far_off},
    {"check_takes_answers_as_they_are", check_takes_answers_as_they_are},
    {"check_finds_odd_sessions", check_finds_odd_sessions},
    {"check_finds_large_weeks", check_finds_large_weeks},
    {"names_look_alike", names_look_alike},
    {"check_finds_nothing_amiss", check_finds_nothing_amiss},
    {NULL, NULL}};

const TestSuite suite_season_check = {"season", cases};
