/* loads: the load by each method, and which method a log has.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/load.h"
#include "season/season.h"

#include <math.h>
#include <stdio.h>

static void load_column(void) {
    read_log("date,athlete,load\n2026-03-02,Kite,231.5\n"
             "2026-03-03,Kite,0\n2026-03-05,Kite,1e2\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->method, LOAD_GIVEN);
    LOADS("Kite", 231.5, 0, 100);
    CU_ASSERT_EQUAL(season->first, march(2));
    CU_ASSERT_EQUAL(season->last, march(5));
    CU_ASSERT_EQUAL(season->today, march(5));
    CU_ASSERT_FALSE(season->wide);
    stop();
}

static void session_rpe_columns(void) {
    read_log("date,minutes,rpe\n2026-03-02,120,6\n2026-03-03,47.5,3.5\n"
             "2026-03-04,1440,10\n2026-03-05,0,0\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->method, LOAD_SESSION_RPE);
    LOADS("athlete", 720, 166.25, 14400, 0); /* 720: Foster et al. 2001, P */
    stop();
}

static void trimp_columns(void) {
    const double tolerance = 5e-9; /* the figures of trimp_formula() */
    start();
    file("athletes.csv", "athlete,sex,hr_rest,hr_max\nKite,m,40,200\n"
                         "Lark,F,40,200\n");
    file("sessions.csv", "date,athlete,minutes,hr_mean\n"
                         "2026-03-02,Kite,30,130\n2026-03-02,Lark,30,130\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(season->method, LOAD_TRIMP);
    ASSERT_NEAR(athlete("Kite")->sessions[0].load, 31.80253915, tolerance);
    ASSERT_NEAR(athlete("Lark")->sessions[0].load, 37.12851776, tolerance);
    stop();
}

/* Without sex, resting or maximal heart rate there is no TRIMP. */
static void trimp_needs_the_athlete(void) {
    static const char *const rows[] = {
        "athlete,sex,hr_rest,hr_max\nKite,,40,200\n",
        "athlete,sex,hr_rest,hr_max\nKite,m,,200\n",
        "athlete,sex,hr_rest,hr_max\nKite,f,40,\n", "athlete\nKite\n"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        start();
        file("athletes.csv", rows[i]);
        file("sessions.csv",
             "date,athlete,minutes,hr_mean\n2026-03-02,Kite,30,130\n");
        look();
        CU_ASSERT_EQUAL(notes.errors, 1);
        assert_place(test_note(&notes, "expected"), "error sessions.csv:0: -");
        CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "sex, hr_rest, hr_max"));
        stop();
    }
}

static void zones_columns(void) {
    read_log("date,minutes_z5,minutes_z1,minutes_z2,minutes_z3,minutes_z4\n"
             "2026-03-02,5,10,20,15,10\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->method, LOAD_ZONES);
    LOADS("athlete", 160);
    stop();
}

/* 3 x 5 x 185 lb, a pound 0.45359237 kg by definition: 1258.71882675 kg. */
static void volume_columns(void) {
    read_log("date,sets,reps,kg,lb\n2026-03-02,3,5,82.5,\n"
             "2026-03-02,3,5,,185\n2026-03-03,4,6.5,20,\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->method, LOAD_VOLUME);
    LOADS("athlete", 1237.5, 1258.71882675, 520);
    stop();
    read_log("date,sets,reps,lb\n2026-03-02,3,5,185\n");
    assert_no_errors();
    LOADS("athlete", 1258.71882675);
    stop();
}

static void choice_of_method(void) {
    static const struct {
        LoadMethod wanted;
        const char *log;
        double loads[2];
    } cases[] = {
        {LOAD_GIVEN,
         "date,minutes,rpe,load\n2026-03-02,60,5,31\n2026-03-03,50,4,37\n",
         {31, 37}},
        {LOAD_SESSION_RPE,
         "date,minutes,rpe,load\n2026-03-02,60,5,31\n2026-03-03,50,4,\n",
         {300, 200}},
        {LOAD_ZONES,
         "date,minutes,rpe,minutes_z1,minutes_z2,minutes_z3,minutes_z4,"
         "minutes_z5,sets,reps,kg\n2026-03-02,60,,1,2,3,4,5,3,5,20\n"
         "2026-03-03,60,5,7,0,0,0,2,3,5,20\n",
         {55, 17}},
        {LOAD_VOLUME,
         "date,load,sets,reps,kg\n2026-03-02,31,3,7,20.5\n"
         "2026-03-03,,2,7,20.5\n",
         {430.5, 287}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        read_log(cases[i].log);
        assert_no_errors();
        CU_ASSERT_EQUAL(season->method, cases[i].wanted);
        CU_ASSERT_FALSE(season->method_given);
        assert_loads("athlete", cases[i].loads, 2);
        stop();
    }
}

static const char two_methods[] =
    "date,minutes,rpe,load\n2026-03-02,60,5,31\n2026-03-03,50,4,37\n";

static void method_given(void) {
    start();
    file("sessions.csv", two_methods);
    options.load = LOAD_SESSION_RPE;
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(season->method, LOAD_SESSION_RPE);
    CU_ASSERT_TRUE(season->method_given);
    LOADS("athlete", 300, 200);
    stop();
}

static void method_without_rows(void) {
    for (int method = LOAD_TRIMP; method <= LOAD_VOLUME; method++) {
        char option[40];
        start();
        file("sessions.csv", two_methods);
        options.load = (LoadMethod)method;
        look();
        CU_ASSERT_EQUAL(notes.errors, 1);
        snprintf(option, sizeof option, "--load %s, expected",
                 load_method_names[method]);
        assert_place(test_note(&notes, option), "error sessions.csv:0: -");
        stop();
    }
}

static void no_method_at_all(void) {
    read_log("date,athlete,session\n2026-03-02,Kite,squats\n");
    CU_ASSERT_EQUAL(notes.errors, 1);
    assert_place(test_note(&notes, "no row has a load; expected one of"),
                 "error sessions.csv:0: -");
    stop();
}

static const char mixture[] = "date,kind,load,minutes,rpe\n" /* 1 */
                              "2026-03-02,gym,310,,\n"       /* 2 */
                              "2026-03-03,skill,,45,4\n"     /* 3 */
                              "2026-03-04,gym,287,,\n"       /* 4 */
                              "2026-03-05,gym,,30,7\n"       /* 5 */
                              "2026-03-06,match,,,\n"        /* 6 */
                              "2026-03-07,skill,122,,\n";    /* 7 */

/* Lines 3 and 5 could be scored by another method; line 6 by none: it is not
 * recorded. */
static void methods_are_not_mixed(void) {
    read_log(mixture);
    CU_ASSERT_EQUAL(season->method, LOAD_GIVEN);
    CU_ASSERT_EQUAL(notes.errors, 2);
    assert_place(test_note(&notes, "on 2026-03-03 has no load by method"),
                 "error sessions.csv:3: -");
    assert_place(test_note(&notes, "on 2026-03-05 has no load by method"),
                 "error sessions.csv:5: -");
    CU_ASSERT_EQUAL(count_notes(LEVEL_ERROR, "'load'"), 2);
    CU_ASSERT_EQUAL(count_notes(LEVEL_ERROR, "expected load"), 2);
    CU_ASSERT_EQUAL(count_notes(LEVEL_ERROR, "--fill"), 2);
    LOADS("athlete", 310, NAN, 287, NAN, NAN, 122);
    stop();
}

/* Each method scores one row: the earlier method is chosen. */
static void methods_that_score_as_many(void) {
    read_log("date,load,minutes,rpe\n2026-03-02,,50,4\n2026-03-03,31.5,,\n");
    CU_ASSERT_EQUAL(season->method, LOAD_GIVEN);
    CU_ASSERT_EQUAL(notes.errors, 1);
    assert_place(test_note(&notes, "on 2026-03-02 has no load by method"),
                 "error sessions.csv:2: -");
    stop();
}

/* Gym (310 + 287)/2 = 298.5; skill 122; no match was scored, so the match gets
 * the median of 122, 287 and 310. */
static void fill_gives_medians(void) {
    static const bool filled[] = {false, true, false, true, true, false};
    start();
    options.fill = true;
    file("sessions.csv", mixture);
    look();
    assert_no_errors();
    LOADS("athlete", 310, 122, 287, 298.5, 287, 122);
    for (size_t i = 0; i < 6; i++)
        CU_ASSERT_EQUAL(athlete("athlete")->sessions[i].filled, filled[i]);
    CU_ASSERT_EQUAL(season->filled, 3);
    assert_place(test_note(&notes, "--fill gave 3 sessions"),
                 "notice sessions.csv:0: -");
    stop();
}

/* Kite's own median, (40.5 + 90.5)/2, not that of the squad. */
static void fill_is_for_each_athlete(void) {
    start();
    options.fill = true;
    file("sessions.csv", "date,athlete,kind,load\n2026-03-02,Kite,gym,40.5\n"
                         "2026-03-02,Lark,gym,700\n2026-03-03,Kite,gym,\n"
                         "2026-03-03,Lark,gym,750\n2026-03-04,Kite,gym,90.5\n"
                         "2026-03-04,Lark,gym,725\n");
    look();
    assert_no_errors();
    LOADS("Kite", 40.5, 65.5, 90.5);
    LOADS("Lark", 700, 750, 725);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "--fill gave 1 session without"));
    stop();
}

/* The contract: rows that the method cannot score are an error or, with
 * --fill, get the median; also the first and the last row of a log. */
static void fill_at_the_edges(void) {
    static const char log[] = "date,load,minutes,rpe\n2026-03-02,,45,4\n"
                              "2026-03-03,310,,\n2026-03-04,288,,\n"
                              "2026-03-05,,30,7\n";
    read_log(log);
    CU_ASSERT_EQUAL(notes.errors, 2);
    stop();
    start();
    options.fill = true;
    options.load = LOAD_GIVEN;
    file("sessions.csv", log);
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(season->filled, 2);
    LOADS("athlete", 299, 310, 288, 299);
    stop();
}

static void blank_is_not_recorded(void) {
    const Note *note;
    read_log("date,load\n2026-03-02,210\n2026-03-03,\n2026-03-04,0\n"
             "2026-03-05,190\n");
    assert_no_errors();
    LOADS("athlete", 210, NAN, 0, 190);
    season_require_loads(season, 0, &notes);
    CU_ASSERT_EQUAL(notes.errors, 1);
    note = test_note(&notes, "2026-03-03 is not recorded");
    assert_place(note, "error sessions.csv:3: -");
    CU_ASSERT_PTR_NOT_NULL_FATAL(note);
    ASSERT_HAS(note->text, "expected a number");
    stop();
}

/* Minutes without a rating are not recorded either. */
static void half_a_score_is_not_recorded(void) {
    read_log("date,minutes,rpe\n2026-03-02,60,5.5\n2026-03-03,60,\n"
             "2026-03-04,,5\n2026-03-05,60,0\n");
    assert_no_errors();
    LOADS("athlete", 330, NAN, NAN, 0);
    season_require_loads(season, 0, &notes);
    CU_ASSERT_EQUAL(notes.errors, 2);
    stop();
}

static const TestCase cases[] = {
    {"load_column", load_column},
    {"session_rpe_columns", session_rpe_columns},
    {"trimp_columns", trimp_columns},
    {"trimp_needs_the_athlete", trimp_needs_the_athlete},
    {"zones_columns", zones_columns},
    {"volume_columns", volume_columns},
    {"choice_of_method", choice_of_method},
    {"method_given", method_given},
    {"method_without_rows", method_without_rows},
    {"no_method_at_all", no_method_at_all},
    {"methods_are_not_mixed", methods_are_not_mixed},
    {"methods_that_score_as_many", methods_that_score_as_many},
    {"fill_gives_medians", fill_gives_medians},
    {"fill_is_for_each_athlete", fill_is_for_each_athlete},
    {"fill_at_the_edges", fill_at_the_edges},
    {"blank_is_not_recorded", blank_is_not_recorded},
    {"half_a_score_is_not_recorded", half_a_score_is_not_recorded},
    {NULL, NULL}};

const TestSuite suite_season_loads = {"season", cases};
