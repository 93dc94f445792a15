/* read: the form of files: order, delimiters, dates, headings of others.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/season.h"

#include <math.h>
#include <stdio.h>

static void any_order_and_case(void) {
    read_log("LOAD,Kind,sEssion,aThLeTe,TIME,DATE\n"
             "231.5,GYM,squats,Kite,07:05,2026-03-02\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(athlete("Kite")->sessions[0].kind, KIND_GYM);
    CU_ASSERT_EQUAL(athlete("Kite")->sessions[0].minute, 425);
    ASSERT_TEXT(season->session_names.items[athlete("Kite")->sessions[0].name],
                "squats");
    LOADS("Kite", 231.5);
    stop();
}

static void one_athlete(void) {
    read_log("date,load\n2026-03-02,231.5\n2026-03-03,87.25\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->athlete_count, 1);
    ASSERT_TEXT(season->athletes[0].name, "athlete");
    LOADS("athlete", 231.5, 87.25);
    stop();
}

/* The files beside a single file are not part of the season. */
static void single_file(void) {
    const char *path;
    start();
    file("tests.csv", "nothing of use\n");
    path = test_file(1, "mine.csv", "date,load\n2026-03-02,231.5\n");
    season = season_read(path, &options, &notes);
    assert_no_errors();
    LOADS("athlete", 231.5);
    ASSERT_TEXT(season->folder, folder);
    ASSERT_TEXT(season->log_path, path);
    stop();
}

static void folder_with_slash(void) {
    char path[400];
    start();
    file("sessions.csv", "date,load\n2026-03-02,231.5\n");
    file("events.csv", "event,start\nCup,2026-04-25\n");
    snprintf(path, sizeof path, "%s//", folder);
    season = season_read(path, &options, &notes);
    assert_no_errors();
    ASSERT_TEXT(season->folder, folder);
    CU_ASSERT_EQUAL(season->event_count, 1);
    stop();
}

static void nothing_there(void) {
    char path[400];
    start();
    snprintf(path, sizeof path, "%s/none", folder);
    season = season_read(path, &options, &notes);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "expected a season folder"));
    CU_ASSERT_EQUAL(season->athlete_count, 0);
    stop();
    start();
    look();
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    assert_place(test_note(&notes, "cannot be opened"),
                 "error sessions.csv:0: -");
    stop();
}

static void kinds(void) {
    static const SessionKind wanted[] = {
        KIND_GYM,      KIND_SKILL, KIND_CONDITIONING, KIND_MATCH,
        KIND_MOBILITY, KIND_OTHER, KIND_OTHER};
    const Athlete *a;
    read_log("date,kind,load\n2026-03-02,gym,1\n2026-03-03,Skill,2\n"
             "2026-03-04,conditioning,3\n2026-03-05,MATCH,4\n"
             "2026-03-06, mobility ,5\n2026-03-07,other,6\n2026-03-08,,7\n");
    assert_no_errors();
    a = athlete("athlete");
    CU_ASSERT_EQUAL_FATAL(a->session_count, 7);
    for (size_t i = 0; i < 7; i++)
        CU_ASSERT_EQUAL(a->sessions[i].kind, wanted[i]);
    for (size_t i = 0; i <= KIND_OTHER; i++)
        CU_ASSERT_PTR_NOT_NULL(session_kind_names[i]);
    CU_ASSERT_PTR_NULL(session_kind_names[KINDS]);
    stop();
}

/* Rows of a day come in order of the clock, those without a time first. */
static void clock_times(void) {
    static const int wanted[] = {-1, 0, 425, 1050, 1439};
    const Athlete *a;
    read_log("date,time,load\n2026-03-02,23:59,11\n2026-03-02,17:30:59,22\n"
             "2026-03-02,,33\n2026-03-02,7:05,44\n2026-03-02,00:00,55\n");
    assert_no_errors();
    a = athlete("athlete");
    LOADS("athlete", 33, 55, 44, 22, 11);
    for (size_t i = 0; i < 5; i++)
        CU_ASSERT_EQUAL(a->sessions[i].minute, wanted[i]);
    stop();
}

static void other_date_orders(void) {
    static const struct {
        DateOrder order;
        const char *cell;
    } cases[] = {{DATES_DMY, "9/3/2026"},   {DATES_DMY, "09.03.2026"},
                 {DATES_MDY, "3/9/2026"},   {DATES_MDY, "03-09-2026"},
                 {DATES_DMY, "2026-03-09"}, {DATES_MDY, "2026-03-09"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char log[80];
        start();
        snprintf(log, sizeof log, "date,load\n%s,231.5\n", cases[i].cell);
        file("sessions.csv", log);
        options.read.dates = cases[i].order;
        look();
        assert_no_errors();
        CU_ASSERT_EQUAL(season->last, march(9));
        stop();
    }
}

/* The same log in every form that a spreadsheet may give it. */
static void same_log_in_other_forms(void) {
    static const char *const forms[] = {
        "date,athlete,load\n2026-03-02,Kite,231.5\n2026-03-04,Kite,87.25\n",
        "date,athlete,load\n2026-03-02,Kite,231.5\n2026-03-04,Kite,87.25",
        "date,athlete,load\r\n2026-03-02,Kite,231.5\r\n"
        "2026-03-04,Kite,87.25\r\n",
        "date,athlete,load\r2026-03-02,Kite,231.5\r2026-03-04,Kite,87.25\r",
        "\xEF\xBB\xBF"
        "date,athlete,load\n2026-03-02,Kite,231.5\n2026-03-04,Kite,87.25\n",
        "date;athlete;load\n2026-03-02;Kite;231,5\n2026-03-04;Kite;87,25\n",
        "date;athlete;load\n2026-03-02;Kite;231.5\n2026-03-04;Kite;87.25\n",
        "sep=;\r\ndate;athlete;load\r\n2026-03-02;Kite;231,5\r\n"
        "2026-03-04;Kite;87,25\r\n",
        "date\tathlete\tload\n2026-03-02\tKite\t231.5\n"
        "2026-03-04\tKite\t87.25\n",
        "date,athlete,load,,\n\n2026-03-02,Kite,231.5,,\n,,,,\n  \n"
        "2026-03-04,Kite,87.25,,\n\n",
        "\"date\",\"athlete\",\"load\"\n\"2026-03-02\",\"Kite\",\"231.5\"\n"
        "2026-03-04 , Kite ,\xC2\xA0"
        "87.25 \n"};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        read_log(forms[i]);
        assert_no_errors();
        CU_ASSERT_EQUAL(notes.count, 0);
        CU_ASSERT_EQUAL(season->athlete_count, 1);
        LOADS("Kite", 231.5, 87.25);
        CU_ASSERT_EQUAL(season->first, march(2));
        CU_ASSERT_EQUAL(season->last, march(4));
        stop();
    }
}

static void unknown_columns(void) {
    read_log("date,load,weather,mood\n2026-03-02,231.5,mild,good\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(notes.count, 1);
    CU_ASSERT_EQUAL(count_notes(LEVEL_NOTICE, "'weather', 'mood'"), 1);
    assert_place(test_note(&notes, "not used"), "notice sessions.csv:0: -");
    LOADS("athlete", 231.5);
    stop();
}

/* What else is there is not told of a header that must be mended. */
static void missing_column(void) {
    read_log("day,load,weather\n2026-03-02,231.5,mild\n");
    CU_ASSERT_EQUAL(notes.count, 1);
    CU_ASSERT_EQUAL(count_notes(LEVEL_ERROR, "this column is missing"), 1);
    stop();
}

static void maps(void) {
    TableMaps table_maps = {0};
    CU_ASSERT_TRUE(
        table_maps_add(&table_maps, "date=Datum,load=Belastung,ignore=Note"));
    start();
    options.read.maps = &table_maps;
    file("sessions.csv", "Datum;Belastung;Note\n2026-03-02;231,5;x\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(notes.count, 0);
    LOADS("athlete", 231.5);
    stop();
    table_maps_free(&table_maps);
}

static void unused_map_is_an_error(void) {
    TableMaps table_maps = {0};
    CU_ASSERT_TRUE(table_maps_add(&table_maps, "load=Belastung,rpe=Farbe"));
    start();
    options.read.maps = &table_maps;
    file("sessions.csv", "date,Belastung\n2026-03-02,231.5\n");
    look();
    CU_ASSERT_EQUAL(notes.errors, 1);
    assert_place(test_note(&notes, "'Farbe', expected"), "error --map:0: rpe");
    stop();
    table_maps_free(&table_maps);
}

static const TestCase cases[] = {
    {"any_order_and_case", any_order_and_case},
    {"one_athlete", one_athlete},
    {"single_file", single_file},
    {"folder_with_slash", folder_with_slash},
    {"nothing_there", nothing_there},
    {"kinds", kinds},
    {"clock_times", clock_times},
    {"other_date_orders", other_date_orders},
    {"same_log_in_other_forms", same_log_in_other_forms},
    {"unknown_columns", unknown_columns},
    {"missing_column", missing_column},
    {"maps", maps},
    {"unused_map_is_an_error", unused_map_is_an_error},
    {NULL, NULL}};

const TestSuite suite_season_read = {"season", cases};
