/* season: tests of the floor that reads a season and puts it in order.
 *
 * Status of a figure: P read in the publication, M from memory, C computed
 * independently of this program. Sums and medians without a mark were made by
 * hand from the log beside them. 2026-03-02 is a Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/mem.h"
#include "base/text.h"
#include "season/check.h"
#include "season/daily.h"
#include "season/load.h"
#include "season/names.h"
#include "season/season.h"
#include "season/usual.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- one season at a time ---- */

static const char *folder;
static SeasonOptions options;
static Notes notes;
static Season *season;

static void start(void) {
    folder = test_folder();
    options = (SeasonOptions){.load = LOAD_FIRST_COMPLETE, .today = DATE_NONE};
    notes = (Notes){0};
    season = NULL;
}

static void file(const char *name, const char *content) {
    test_file(0, name, content);
}

static void look(void) {
    season = season_read(folder, &options, &notes);
}

static void stop(void) {
    season_free(season);
    notes_free(&notes);
    test_folder_done();
}

static void read_log(const char *content) {
    start();
    file("sessions.csv", content);
    look();
}

static void read_with(const char *name, const char *content) {
    start();
    file("sessions.csv", "date,athlete,load\n2026-03-02,Kite,231.5\n");
    file(name, content);
    look();
}

static Date march(int day) {
    return date_of((Civil){2026, 3, day});
}

static size_t index_of(const char *name) {
    size_t who = season_athlete(season, name);
    CU_ASSERT_NOT_EQUAL_FATAL(who, NAMES_NONE);
    return who;
}

static const Athlete *athlete(const char *name) {
    return &season->athletes[index_of(name)];
}

/* NAN in `wanted` stands for "not recorded". */
static void assert_values(const double *values, size_t count,
                          const double *wanted, size_t wanted_count) {
    CU_ASSERT_EQUAL_FATAL(count, wanted_count);
    for (size_t i = 0; i < count; i++) {
        if (isnan(wanted[i])) {
            CU_ASSERT_TRUE(isnan(values[i]));
        } else {
            ASSERT_NEAR(values[i], wanted[i], 1e-12);
        }
    }
}

enum { MOST = 64 };

static void assert_loads(const char *name, const double *wanted, size_t count) {
    const Athlete *a = athlete(name);
    double values[MOST];
    CU_ASSERT_FATAL(a->session_count <= MOST);
    for (size_t i = 0; i < a->session_count; i++)
        values[i] = a->sessions[i].load;
    assert_values(values, a->session_count, wanted, count);
}

#define LOADS(name, ...)                                                       \
    assert_loads(name, (const double[]){__VA_ARGS__},                          \
                 sizeof((const double[]){__VA_ARGS__}) / sizeof(double))

/* Fails with the first error printed. */
static void assert_no_errors(void) {
    const char *first = "";
    for (size_t i = notes.count; i-- > 0;)
        if (notes.items[i].level == LEVEL_ERROR)
            first = notes.items[i].text;
    ASSERT_TEXT(first, "");
    CU_ASSERT_EQUAL(notes.errors, 0);
}

static size_t count_notes(Level level, const char *part) {
    size_t count = 0;
    for (size_t i = 0; i < notes.count; i++)
        count += notes.items[i].level == level &&
                 strstr(notes.items[i].text, part) != NULL;
    return count;
}

static const char *base_name(const char *path) {
    const char *slash = path ? strrchr(path, '/') : NULL;
    return slash ? slash + 1 : path ? path : "-";
}

/* A note as "level file:line: column". */
static void assert_place(const Note *note, const char *wanted) {
    char text[400] = "no such note";
    if (note)
        snprintf(text, sizeof text, "%s %s:%zu: %s", level_name(note->level),
                 base_name(note->file), note->line,
                 note->column ? note->column : "-");
    ASSERT_TEXT(text, wanted);
}

/* ---- formulas ---- */

/* Banister 1991 (M); figures C: 30 min at 130, rest 40, maximum 200. At the
 * maximum 32.5 x .64 e^1.92 and 32.5 x .86 e^1.67 (C, Python's decimal). */
static void trimp_formula(void) {
    HeartProfile man = {40, 200, false}, woman = {40, 200, true};
    ASSERT_NEAR(load_trimp(30, 130, man), 31.80253915, 5e-9);
    ASSERT_NEAR(load_trimp(30, 130, woman), 37.12851776, 5e-9);
    ASSERT_NEAR(load_trimp(32.5, 200, man), 141.875936161248, 1e-12);
    ASSERT_NEAR(load_trimp(32.5, 200, woman), 148.475089931214, 1e-12);
    ASSERT_NEAR(load_trimp(47, 40, man), 0, 0);
    CU_ASSERT_TRUE(isnan(load_trimp(30, 39.5, man)));
    CU_ASSERT_TRUE(isnan(load_trimp(30, 200.5, woman)));
    CU_ASSERT_TRUE(isnan(load_trimp(30, NAN, man)));
    CU_ASSERT_TRUE(isnan(load_trimp(NAN, 130, man)));
    CU_ASSERT_TRUE(isnan(load_trimp(30, 130, (HeartProfile){NAN, 200, false})));
    CU_ASSERT_TRUE(isnan(load_trimp(30, 130, (HeartProfile){130, 130, true})));
}

/* Edwards 1993, weights M, sum C. Foster et al. 2001: 120 min x 6 (P). */
static void simple_formulas(void) {
    const double zones[] = {10, 20, 15, 10, 5};
    const double blank[] = {10, 20, NAN, 10, 5};
    ASSERT_NEAR(load_zones(zones), 160, 0);
    CU_ASSERT_TRUE(isnan(load_zones(blank)));
    ASSERT_NEAR(load_session_rpe(120, 6), 720, 0);
    ASSERT_NEAR(load_session_rpe(47.5, 3.5), 166.25, 0);
    CU_ASSERT_TRUE(isnan(load_session_rpe(120, NAN)));
    ASSERT_NEAR(load_volume(3, 5, 82.5), 1237.5, 0);
    CU_ASSERT_TRUE(isnan(load_volume(3, 5, NAN)));
}

/* Foster 1998 (P; which SD is not said). Sample SD, C. */
static void monotony_and_strain(void) {
    const double week[7] = {300, 0, 450, 240, 0, 600, 360};
    const double equal[7] = {.1, .1, .1, .1, .1, .1, .1};
    const double rest[7] = {0};
    const double blank[7] = {300, 0, NAN, 240, 0, 600, 360};
    ASSERT_NEAR(load_monotony(week), 1.253170925, 5e-10);
    ASSERT_NEAR(load_strain(week), 2443.683305, 5e-7);
    CU_ASSERT_TRUE(isnan(load_monotony(equal)));
    CU_ASSERT_TRUE(isnan(load_strain(equal)));
    CU_ASSERT_TRUE(isnan(load_monotony(rest)));
    CU_ASSERT_TRUE(isnan(load_strain(rest)));
    CU_ASSERT_TRUE(isnan(load_monotony(blank)));
    CU_ASSERT_TRUE(isnan(load_strain(blank)));
}

static void median(void) {
    double odd[] = {7.3, 2.1, 5.9}, even[] = {4.4, 1.2, 9.6, 3.8}, one[] = {.7};
    ASSERT_NEAR(load_median(odd, 3), 5.9, 0);
    ASSERT_NEAR(load_median(even, 4), 4.1, 1e-15);
    ASSERT_NEAR(load_median(one, 1), .7, 0);
    CU_ASSERT_TRUE(isnan(load_median(odd, 0)));
}

/* ---- names ---- */

static void names_are_numbered(void) {
    Names names = {0};
    char text[32];
    CU_ASSERT_EQUAL(names_find(&names, "gym", 3), NAMES_NONE);
    for (int round = 0; round < 2; round++)
        for (size_t i = 0; i < 3000; i++) {
            snprintf(text, sizeof text, "name %zu", i);
            CU_ASSERT_EQUAL(names_add(&names, text, strlen(text)), i);
        }
    CU_ASSERT_EQUAL(names.count, 3000);
    ASSERT_TEXT(names.items[2999], "name 2999");
    CU_ASSERT_EQUAL(names_find(&names, "name 29", 7), 29);
    CU_ASSERT_EQUAL(names_find(&names, "name 29 more", 7), 29);
    CU_ASSERT_EQUAL(names_find(&names, "name", 4), NAMES_NONE);
    CU_ASSERT_EQUAL(names_find(&names, "Name 29", 7), NAMES_NONE);
    names_free(&names);
    CU_ASSERT_EQUAL(names.count, 0);
}

/* Names that begin like others are others, also where the longer come first. */
static void names_beginnings(void) {
    static const char nines[] = "99999999999999999999";
    Names names = {0};
    char text[32];
    size_t many = sizeof nines - 1, bad = 0;
    for (size_t length = many; length > 0; length--)
        bad += names_add(&names, nines, length) != many - length;
    for (size_t i = 3000; i > 0; i--) {
        snprintf(text, sizeof text, "%zu", i);
        bad += names_add(&names, text, strlen(text)) >= names.count;
    }
    for (size_t i = 3000; i > 0; i--) {
        size_t found;
        snprintf(text, sizeof text, "%zu", i);
        found = names_find(&names, text, strlen(text));
        bad += found >= names.count || strcmp(names.items[found], text) != 0;
    }
    CU_ASSERT_EQUAL(bad, 0);
    /* 9, 99 and 999 stand there twice */
    CU_ASSERT_EQUAL(names.count, many + 3000 - 3);
    names_free(&names);
}

/* ---- sessions.csv: the load by each method ---- */

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

/* ---- sessions.csv: the form of the file ---- */

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

/* ---- which method ---- */

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

/* ---- wide tables ---- */

/* Lark's blank on day 2 comes before her first load and the blanks of day 7
 * after the last logged day; the other blanks are days not recorded. */
static void wide_table(void) {
    read_log("date,Kite, Lark \n2026-03-02,210.5,\n2026-03-03,,130\n"
             "2026-03-04,180,0\n2026-03-05,,145\n2026-03-06,77,\n"
             "2026-03-07,,\n");
    assert_no_errors();
    CU_ASSERT_TRUE(season->wide);
    CU_ASSERT_EQUAL(season->athlete_count, 2);
    LOADS("Kite", 210.5, NAN, 180, NAN, 77);
    LOADS("Lark", 130, 0, 145);
    CU_ASSERT_EQUAL(athlete("Lark")->sessions[0].date, march(3));
    CU_ASSERT_EQUAL(season->last, march(6));
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "read as a wide table"));
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "4 rows without a load"));
    stop();
}

static void wide_table_with_text(void) {
    const Note *note;
    read_log("date;Kite;Lark\n2026-03-02;210,5;90\n2026-03-03;ill;130\n");
    CU_ASSERT_EQUAL(notes.errors, 1);
    note = test_note(&notes, "'ill'");
    assert_place(note, "error sessions.csv:3: Kite");
    CU_ASSERT_PTR_NOT_NULL_FATAL(note);
    ASSERT_HAS(note->text, "expected a number");
    LOADS("Lark", 90, 130);
    stop();
}

static void wide_table_without_a_column(void) {
    TableMaps table_maps = {0};
    CU_ASSERT_TRUE(table_maps_add(&table_maps, "ignore=Notes,date=Day"));
    start();
    options.read.maps = &table_maps;
    file("sessions.csv", "Day,Kite,Notes\n2026-03-02,210.5,rain\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(season->athlete_count, 1);
    LOADS("Kite", 210.5);
    stop();
    table_maps_free(&table_maps);
}

/* Headings become names, so they are held to the same rule as names. */
static void wide_table_with_control_characters(void) {
    read_log("date,Ki\x01te,Lark\n2026-03-02,210.5,90\n");
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "\\x01"));
    stop();
}

/* ---- cells that cannot be read ---- */

typedef struct {
    const char *file, *content;
    const char *place; /* "line: column" */
    const char *shown; /* the offending text */
    const char *wanted;
} Bad;

static const char sessions_csv[] = "sessions.csv";

static const Bad bad_sessions[] = {
    {sessions_csv, "date,load\n2026-02-29,231\n", "2: date", "'2026-02-29'",
     "a day that exists"},
    {sessions_csv, "date,load\n2026-13-01,231\n", "2: date", "'2026-13-01'",
     "a day that exists"},
    {sessions_csv, "date,load\n2026-04-31,231\n", "2: date", "'2026-04-31'",
     "a day that exists"},
    {sessions_csv, "date,load\n0026-04-30,231\n", "2: date", "'0026-04-30'",
     "1900 to 2199"},
    {sessions_csv, "date,load\n2026-3-9,231\n", "2: date", "'2026-3-9'",
     "YYYY-MM-DD"},
    {sessions_csv, "date,load\n09/03/2026,231\n", "2: date", "'09/03/2026'",
     "--dates dmy"},
    {sessions_csv, "date,load\n09.03.2026,231\n", "2: date", "'09.03.2026'",
     "--dates mdy"},
    /* 1899-12-30 + 45306 */
    {sessions_csv, "date,load\n45306,231\n", "2: date", "'45306'",
     "2024-01-15"},
    {sessions_csv, "Date,load\nyesterday,231\n", "2: Date", "'yesterday'",
     "YYYY-MM-DD"},
    {sessions_csv, "date,load\n,231\n", "2: date", "''", "YYYY-MM-DD"},
    {sessions_csv, "date,load\n2026-03-02,hard\n", "2: load", "'hard'",
     "a number"},
    {sessions_csv, "date,LOAD\n2026-03-02,12x\n", "2: LOAD", "'12x'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,12 min\n", "2: load", "'12 min'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,nan\n", "2: load", "'nan'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,inf\n", "2: load", "'inf'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,0x1F\n", "2: load", "'0x1F'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,1e999\n", "2: load", "'1e999'",
     "a number"},
    {sessions_csv, "date,load\n2026-03-02,-3.5\n", "2: load", "'-3.5'",
     "a number from 0"},
    {sessions_csv, "date,load\n2026-03-02,\"1,234\"\n", "2: load", "'1,234'",
     "thousands separators"},
    {sessions_csv, "date,load\n2026-03-02,\"1,234.5\"\n", "2: load",
     "'1,234.5'", "thousands separators"},
    {sessions_csv, "date;load\n2026-03-02;1.234\n", "2: load", "'1.234'",
     "one way only"},
    {sessions_csv, "date;load\n2026-03-02;1,234\n", "2: load", "'1,234'",
     "one way only"},
    {sessions_csv, "date;load\n2026-03-02;1.234,5\n", "2: load", "'1.234,5'",
     "thousands separators"},
    {sessions_csv, "date\tload\n2026-03-02\t1,5\n", "2: load", "'1,5'",
     "decimal point"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,60,10.5\n", "2: rpe", "'10.5'",
     "from 0 to 10"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,60,-1\n", "2: rpe", "'-1'",
     "from 0 to 10"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,1440.5,7\n", "2: minutes",
     "'1440.5'", "from 0 to 1440"},
    {sessions_csv, "date,minutes,rpe\n2026-03-02,1h30,7\n", "2: minutes",
     "'1h30'", "a number"},
    {sessions_csv, "date,minutes,hr_mean\n2026-03-02,60,19\n", "2: hr_mean",
     "'19'", "a number from 20"},
    {sessions_csv,
     "date,minutes_z1,minutes_z2,minutes_z3,minutes_z4,minutes_z5\n"
     "2026-03-02,1,2,ten,4,5\n",
     "2: minutes_z3", "'ten'", "a number"},
    {sessions_csv, "date,sets,reps,kg\n2026-03-02,-3,5,20\n", "2: sets", "'-3'",
     "a number from 0"},
    {sessions_csv, "date,sets,reps,kg\n2026-03-02,3,5+,20\n", "2: reps", "'5+'",
     "a number"},
    {sessions_csv, "date,sets,reps,kg\n2026-03-02,3,5,2000.5\n", "2: kg",
     "'2000.5'", "to 2000"},
    {sessions_csv, "date,sets,reps,lb\n2026-03-02,3,5,45lb\n", "2: lb",
     "'45lb'", "a number"},
    {sessions_csv, "date,kind,load\n2026-03-02,yoga,231\n", "2: kind", "'yoga'",
     "gym, skill, conditioning, match, mobility or other"},
    {sessions_csv, "date,time,load\n2026-03-02,24:00,231\n", "2: time",
     "'24:00'", "HH:MM"},
    {sessions_csv, "date,time,load\n2026-03-02,7h30,231\n", "2: time", "'7h30'",
     "HH:MM"},
    {sessions_csv, "date,time,load\n2026-03-02,7:60,231\n", "2: time", "'7:60'",
     "HH:MM"},
    {sessions_csv, "date,athlete,load\n2026-03-02,,231\n", "2: athlete",
     "blank", "the athlete's name"},
    {sessions_csv, "date,athlete,load\n2026-03-02,Ki\x01te,231\n", "2: athlete",
     "\\x01", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\x1B[31mb,231\n",
     "2: session", "\\x1B", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\x7F,231\n", "2: session",
     "\\x7F", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\xC2\x85z,231\n",
     "2: session", "\\xC2", "control characters"},
    {sessions_csv, "date,session,load\n2026-03-02,a\xEF\xBF\xBEz,231\n",
     "2: session", "'a", "control characters"},
    {sessions_csv, "date,load\n2026-03-02,231,7\n", "2: -", "3 cells",
     "2 as in the header"},
    {sessions_csv, "date,athlete,load\n2026-03-02,231\n", "2: -", "2 cells",
     "3 as in the header"},
    /* the line is the editor's, after quoted and blank lines */
    {sessions_csv,
     "date,session,load\n2026-03-02,\"two\nlines\",231\n2026-03-03,x,bad\n",
     "4: load", "'bad'", "a number"},
    {sessions_csv, "date,load\r\n\r\n\r\n2026-03-02,bad\r\n", "4: load",
     "'bad'", "a number"},
    {sessions_csv, "date,load\n2026-03-02,231\n2026-03-03,bad\n", "3: load",
     "'bad'", "a number"},
};

static const char athletes_csv[] = "athletes.csv";

static const Bad bad_athletes[] = {
    {athletes_csv, "athlete,mass_kg\nKite,71.3\nKite,72.8\n", "3: athlete",
     "'Kite'", "one row an athlete"},
    {athletes_csv, "athlete,sex\n,f\n", "2: athlete", "''", "some text"},
    {athletes_csv, "athlete\nKi\x02te\n", "2: athlete", "\\x02",
     "control characters"},
    {athletes_csv, "athlete,mass_kg\nKite,19.5\n", "2: mass_kg", "'19.5'",
     "from 20 to 250"},
    {athletes_csv, "athlete,mass_kg\nKite,\"71,3\"\n", "2: mass_kg", "'71,3'",
     "decimal point"},
    {athletes_csv, "athlete,mass_lb\nKite,550.5\n", "2: mass_lb", "'550.5'",
     "to 550"},
    {athletes_csv, "athlete,sex\nKite,woman\n", "2: sex", "'woman'", "f or m"},
    {athletes_csv, "athlete,hr_rest\nKite,19\n", "2: hr_rest", "'19'",
     "from 20 to 120"},
    {athletes_csv, "athlete,hr_max\nKite,251\n", "2: hr_max", "'251'",
     "from 100 to 250"},
    {athletes_csv, "athlete,hr_rest,hr_max\nKite,118,117\n", "2: hr_max",
     "'117'", "more than hr_rest '118'"},
    {athletes_csv, "athlete,hr_rest,hr_max\nKite,117,117\n", "2: hr_max",
     "'117'", "more than hr_rest '117'"},
    {athletes_csv, "athlete,minor\nKite,perhaps\n", "2: minor", "'perhaps'",
     "no or yes"},
    {athletes_csv, "athlete,squad\nKite,a\x03\n", "2: squad", "\\x03",
     "control characters"},
    {athletes_csv, "athlete,model\nKite,a\x03.csv\n", "2: model", "\\x03",
     "control characters"},
};

static const char tests_csv[] = "tests.csv";

static const Bad bad_tests[] = {
    {tests_csv, "date,athlete,test,value\n2026-02-30,Kite,jump,31.7\n",
     "2: date", "'2026-02-30'", "a day that exists"},
    {tests_csv, "date,athlete,test,value\n,Kite,jump,31.7\n", "2: date", "''",
     "YYYY-MM-DD"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Kite,jump,\n", "2: value",
     "blank", "the result of the test"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Kite,jump,31.7cm\n",
     "2: value", "'31.7cm'", "a number"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Kite,,31.7\n", "2: test",
     "''", "some text"},
    {tests_csv, "date,athlete,test,value\n2026-03-02,Ki\x04te,jump,31.7\n",
     "2: athlete", "\\x04", "control characters"},
    {tests_csv, "date,test,value,error\n2026-03-02,jump,31.7,0\n", "2: error",
     "'0'", "a number from"},
    {tests_csv, "date,test,value,error\n2026-03-02,jump,31.7,-.5\n", "2: error",
     "'-.5'", "a number from"},
    {tests_csv, "date,test,value,better\n2026-03-02,jump,31.7,more\n",
     "2: better", "'more'", "higher or lower"},
    {tests_csv, "date,test,value\n2026-03-02,Sprint 30 m,4.13\n", "2: better",
     "'Sprint 30 m'", "'lower' if fewer seconds are better"},
    {tests_csv, "date,test,value,better\n2026-03-02,Shuttle (s),13.1,\n",
     "2: better", "'Shuttle (s)'", "'lower' if fewer seconds are better"},
    {tests_csv, "date,test,value\n2026-03-02,5 km [min],21.5\n", "2: better",
     "'5 km [min]'", "expected 'lower'"},
    {tests_csv, "date,test,value\n2026-03-02,RUN_2400,10.1\n", "2: better",
     "'RUN_2400'", "expected 'lower'"},
    {tests_csv,
     "date,test,value,better\n2026-03-02,bar,4.1,lower\n"
     "2026-03-03,bar,4.2,higher\n",
     "3: better", "'higher'", "expected lower as for 'bar' on line 2"},
    {tests_csv, "date,test,value,when\n2026-03-02,jump,31.7,noon\n", "2: when",
     "'noon'", "before or after"},
};

static const char events_csv[] = "events.csv";

static const Bad bad_events[] = {
    {events_csv, "event,start\nCup,2026-06-31\n", "2: start", "'2026-06-31'",
     "a day that exists"},
    {events_csv, "event,start\nCup,\n", "2: start", "''", "YYYY-MM-DD"},
    {events_csv, "event,start\n,2026-04-25\n", "2: event", "''", "some text"},
    {events_csv, "event,start\nC\x05,2026-04-25\n", "2: event", "\\x05",
     "control characters"},
    {events_csv, "event,start,days\nCup,2026-04-25,0\n", "2: days", "'0'",
     "from 1 to 60"},
    {events_csv, "event,start,days\nCup,2026-04-25,61\n", "2: days", "'61'",
     "from 1 to 60"},
    {events_csv, "event,start,days\nCup,2026-04-25,2.5\n", "2: days", "'2.5'",
     "a whole number"},
    {events_csv, "event,start,weight\nCup,2026-04-25,0\n", "2: weight", "'0'",
     "a number from"},
    {events_csv, "event,start,sessions_per_day\nCup,2026-04-25,11\n",
     "2: sessions_per_day", "'11'", "from 1 to 10"},
    {events_csv, "event,start,load_per_day\nCup,2026-04-25,-5.5\n",
     "2: load_per_day", "'-5.5'", "a number from 0"},
    {events_csv, "event,start,start_time\nCup,2026-04-25,9\n", "2: start_time",
     "'9'", "HH:MM"},
    {events_csv, "event,start\nCup,2026-04-25\nCup,2026-05-30\n", "3: event",
     "'Cup'", "a name of its own"},
    {events_csv,
     "event,start,athlete\nCup,2026-04-25,Kite\nCup,2026-05-30,Kite\n",
     "3: event", "'Cup'", "also on line 2"},
};

static const char week_csv[] = "week.csv";

static const Bad bad_week[] = {
    {week_csv, "weekday,session,load\nsomeday,squats,231\n", "2: weekday",
     "'someday'", "mon, tue, wed, thu, fri, sat, sun"},
    {week_csv, "weekday,session,load\n,squats,231\n", "2: weekday", "''",
     "mon, tue"},
    {week_csv, "weekday,session,load\n2026-02-30,squats,231\n", "2: weekday",
     "'2026-02-30'", "a day that exists"},
    {week_csv, "weekday,session,load\n1/4/2026,squats,231\n", "2: weekday",
     "'1/4/2026'", "--dates dmy"},
    {week_csv, "weekday,session,load\nmon,,231\n", "2: session", "''",
     "some text"},
    {week_csv, "weekday,session,kind,load\nmon,squats,lifting,231\n", "2: kind",
     "'lifting'", "gym, skill"},
    {week_csv, "weekday,session,minutes,rpe\nmon,squats,1441,5\n", "2: minutes",
     "'1441'", "to 1440"},
    {week_csv, "weekday,session,minutes,rpe\nmon,squats,60,10.1\n", "2: rpe",
     "'10.1'", "from 0 to 10"},
    {week_csv, "weekday,session,load\nmon,squats,-2.5\n", "2: load", "'-2.5'",
     "a number from 0"},
    {week_csv, "weekday,session,load,keep\nmon,squats,231,always\n", "2: keep",
     "'always'", "no or yes"},
    {week_csv, "weekday,session,load,team\nmon,squats,231,all\n", "2: team",
     "'all'", "no or yes"},
    {week_csv, "weekday,session,load,least_minutes\nmon,squats,231,-1\n",
     "2: least_minutes", "'-1'", "from 0 to 1440"},
    {week_csv,
     "weekday,session,minutes,rpe,least_minutes\nmon,drills,40,5,45\n",
     "2: least_minutes", "'45'", "no more than the 40 of minutes"},
};

static const char exercises_csv[] = "exercises.csv";

static const Bad bad_exercises[] = {
    {exercises_csv, "session,exercise,sets,reps,kg\n,squat,3,5,20\n",
     "2: session", "''", "some text"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,,3,5,20\n",
     "2: exercise", "''", "some text"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,,5,20\n",
     "2: sets", "blank", "a number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,,20\n",
     "2: reps", "blank", "a number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,0,5,20\n",
     "2: sets", "'0'", "from 1 to 100"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,2.5,5,20\n",
     "2: sets", "'2.5'", "a whole number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,0,20\n",
     "2: reps", "'0'", "a number from 1"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,8-12,20\n",
     "2: reps", "'8-12'", "a number"},
    {exercises_csv, "session,exercise,sets,reps,kg\nlegs,squat,3,5,-20\n",
     "2: kg", "'-20'", "a number from 0"},
    {exercises_csv, "session,exercise,sets,reps,lb\nlegs,squat,3,5,heavy\n",
     "2: lb", "'heavy'", "a number"},
    {exercises_csv,
     "session,exercise,sets,reps,percent_1rm\nlegs,squat,3,5,121\n",
     "2: percent_1rm", "'121'", "from 1 to 120"},
    {exercises_csv, "session,exercise,sets,reps,keep\nlegs,squat,3,5,ja\n",
     "2: keep", "'ja'", "no or yes"},
};

static void check_bad(const Bad *bad) {
    const Note *error = NULL;
    char place[200];
    read_with(bad->file, bad->content);
    CU_ASSERT_EQUAL(notes.errors, 1);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    for (size_t i = 0; i < notes.count && !error; i++)
        if (notes.items[i].level == LEVEL_ERROR)
            error = &notes.items[i];
    snprintf(place, sizeof place, "error %s:%s", bad->file, bad->place);
    assert_place(error, place);
    ASSERT_HAS(error ? error->text : NULL, bad->shown);
    ASSERT_HAS(error ? error->text : NULL, "expected");
    ASSERT_HAS(error ? error->text : NULL, bad->wanted);
    stop();
}

static void check_all(const Bad *bad, size_t count) {
    for (size_t i = 0; i < count; i++)
        check_bad(&bad[i]);
}

#define CHECK_ALL(table) check_all(table, sizeof(table) / sizeof(table)[0])

static void bad_cells_of_sessions(void) {
    CHECK_ALL(bad_sessions);
}

static void bad_cells_of_athletes(void) {
    CHECK_ALL(bad_athletes);
}

static void bad_cells_of_tests(void) {
    CHECK_ALL(bad_tests);
}

static void bad_cells_of_events(void) {
    CHECK_ALL(bad_events);
}

static void bad_cells_of_week(void) {
    CHECK_ALL(bad_week);
}

static void bad_cells_of_exercises(void) {
    CHECK_ALL(bad_exercises);
}

/* check: "every problem with file, line, column". */
static void every_problem_of_a_row(void) {
    read_log("date,athlete,load,kind,sets\n2026-02-30,Kite,heavy,yoga,-1\n");
    CU_ASSERT_EQUAL(notes.errors, 4);
    assert_place(test_note(&notes, "'2026-02-30'"),
                 "error sessions.csv:2: date");
    assert_place(test_note(&notes, "'yoga'"), "error sessions.csv:2: kind");
    assert_place(test_note(&notes, "'heavy'"), "error sessions.csv:2: load");
    assert_place(test_note(&notes, "'-1'"), "error sessions.csv:2: sets");
    stop();
}

static void every_bad_row_is_told(void) {
    read_log("date,load\nmonday,1\n2026-03-02,231.5\n2026-03-03,x\n"
             "2026-03-04,88\n2026-03-05,-4\n");
    CU_ASSERT_EQUAL(notes.errors, 3);
    assert_place(test_note(&notes, "'monday'"), "error sessions.csv:2: date");
    assert_place(test_note(&notes, "'x'"), "error sessions.csv:4: load");
    assert_place(test_note(&notes, "'-4'"), "error sessions.csv:6: load");
    LOADS("athlete", 231.5, 88);
    stop();
}

/* What lies on a limit is still inside. */
static void cells_on_the_limits(void) {
    static const char *const rows[][2] = {
        {"athletes.csv", "athlete,mass_kg,hr_rest,hr_max,minor\n"
                         "Kite,20,20,100,YES\nLark,250,120,250,No\n"},
        {"athletes.csv", "athlete,mass_lb\nKite,45\nLark,550\n"},
        {"tests.csv", "date,test,value,error\n2026-03-02,jump,-3.5,.01\n"},
        {"events.csv", "event,start,days,sessions_per_day,load_per_day\n"
                       "Cup,2026-04-25,60,10,0\nFinal,2028-02-29,1,1,\n"},
        {"week.csv", "weekday,session,minutes,rpe,load,keep\n"
                     "SUN,squats,1440,10,0,yes\n2028-02-29,x,0,0,3.5,no\n"},
        {"exercises.csv",
         "session,exercise,sets,reps,kg,percent_1rm\n"
         "legs,squat,100,1,0,1\nlegs,lunge,1,10000,2000,120\n"},
        {"sessions.csv", "date,load\n1900-01-01,0\n2024-02-29,1000000\n"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        read_with(rows[i][0], rows[i][1]);
        assert_no_errors();
        stop();
    }
}

static void missing_columns(void) {
    static const struct {
        const char *file, *header, *missing;
    } cases[] = {{"sessions.csv", "day,load", "date"},
                 {"athletes.csv", "name,sex", "athlete"},
                 {"tests.csv", "athlete,test,value", "date"},
                 {"tests.csv", "date,value", "test"},
                 {"tests.csv", "date,test", "value"},
                 {"events.csv", "start,days", "event"},
                 {"events.csv", "event,days", "start"},
                 {"week.csv", "session,load", "weekday"},
                 {"week.csv", "weekday,load", "session"},
                 {"exercises.csv", "exercise,sets,reps", "session"},
                 {"exercises.csv", "session,sets,reps", "exercise"},
                 {"exercises.csv", "session,exercise,reps", "sets"},
                 {"exercises.csv", "session,exercise,sets", "reps"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[200], place[200];
        const Note *note;
        snprintf(text, sizeof text, "%s\n1,1,1\n", cases[i].header);
        read_with(cases[i].file, text);
        CU_ASSERT_EQUAL(notes.errors, 1);
        snprintf(place, sizeof place, "error %s:1: %s", cases[i].file,
                 cases[i].missing);
        note = test_note(&notes, "this column is missing");
        assert_place(note, place);
        snprintf(text, sizeof text,
                 "expected a column '%s' (or --map %s=", cases[i].missing,
                 cases[i].missing);
        ASSERT_HAS(note ? note->text : NULL, text);
        stop();
    }
}

static void header_only(void) {
    static const char *const files[][3] = {
        {"sessions.csv", "date,load\n", "error sessions.csv:0: -"},
        {"sessions.csv", "date,Kite,Lark\n", "error sessions.csv:0: -"},
        {"events.csv", "event,start\n", "warning events.csv:0: -"},
        {"week.csv", "weekday,session\n", "warning week.csv:0: -"}};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        read_with(files[i][0], files[i][1]);
        assert_place(test_note(&notes, "has a header but no rows"),
                     files[i][2]);
        CU_ASSERT_FALSE(season->has_week);
        CU_ASSERT_EQUAL(season->event_count, 0);
        stop();
    }
    read_with("athletes.csv", "athlete,sex\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->athlete_count, 1);
    stop();
}

static void not_a_text_file(void) {
    static const char zero[] = "date,load\n2026-03-02,2\0001\n";
    read_log("");
    assert_place(test_note(&notes, "is empty, expected a header"),
                 "error sessions.csv:0: -");
    stop();
    read_log("date,athlete,load\n2026-03-02,Kite,1\n2026-03-03,L\xE4rk,2\n");
    assert_place(test_note(&notes, "UTF-8"), "error sessions.csv:3: -");
    CU_ASSERT_EQUAL(notes.errors, 1);
    stop();
    start();
    test_file_bytes(0, "sessions.csv", zero, sizeof zero - 1);
    look();
    assert_place(test_note(&notes, "NUL"), "error sessions.csv:2: -");
    CU_ASSERT_EQUAL(notes.errors, 1);
    stop();
}

/* Outside rest ... max for the athlete named, whatever method is used. */
static void heart_rate_outside(void) {
    const Note *note;
    start();
    file("athletes.csv", "athlete,sex,hr_rest,hr_max\nKite,m,41,197\n"
                         "Lark,f,52,188\n");
    file("sessions.csv", "date,athlete,minutes,hr_mean\n"
                         "2026-03-02,Kite,30,197\n2026-03-02,Lark,30,189\n"
                         "2026-03-03,Kite,30,40.5\n2026-03-03,Lark,30,52\n");
    look();
    CU_ASSERT_EQUAL(notes.errors, 2);
    note = test_note(&notes, "'189'");
    assert_place(note, "error sessions.csv:3: hr_mean");
    ASSERT_HAS(note ? note->text : NULL, "expected a mean heart rate");
    ASSERT_HAS(note ? note->text : NULL, "hr_rest 52 and hr_max 188");
    assert_place(test_note(&notes, "'40.5'"), "error sessions.csv:4: hr_mean");
    stop();
}

/* ---- athletes.csv ---- */

static const char four_athletes[] =
    "date,athlete,load\n2026-03-02,Wren,1.5\n2026-03-02,Lark,2.5\n"
    "2026-03-02,Kite,3.5\n2026-03-02,Zebu,4.5\n";

/* 154.3 lb x 0.45359237 = 69.989302691 kg. */
static void athletes_file(void) {
    const Athlete *a;
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete,mass_kg,mass_lb,sex,hr_rest,hr_max,minor\n"
                         "Wren,71.35,,F,47.5,191,yes\nKite,,154.3,m,,,no\n"
                         "Lark,,,,,,\n");
    look();
    assert_no_errors();
    a = athlete("Wren");
    ASSERT_NEAR(a->mass, 71.35, 0);
    ASSERT_NEAR(a->hr_rest, 47.5, 0);
    ASSERT_NEAR(a->hr_max, 191, 0);
    CU_ASSERT_TRUE(a->female && a->sex_given && a->minor && a->listed);
    a = athlete("Kite");
    ASSERT_NEAR(a->mass, 69.989302691, 1e-12);
    CU_ASSERT_TRUE(isnan(a->hr_rest) && isnan(a->hr_max));
    CU_ASSERT_TRUE(!a->female && a->sex_given && !a->minor && a->listed);
    a = athlete("Lark");
    CU_ASSERT_TRUE(isnan(a->mass) && !a->sex_given && !a->minor && a->listed);
    CU_ASSERT_PTR_NULL(a->model);
    CU_ASSERT_FALSE(athlete("Zebu")->listed);
    stop();
}

/* A preset has a name alone; a file stands beside the season or has a full
 * path. */
static const char *squad_of(const char *name) {
    return season->squad_names.items[athlete(name)->squad];
}

static void squads(void) {
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "squad,athlete\nU19,Wren\nseniors,Kite\nU19,Zebu\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL(season->squad_names.count, 3);
    ASSERT_TEXT(squad_of("Wren"), "U19");
    ASSERT_TEXT(squad_of("Kite"), "seniors");
    ASSERT_TEXT(squad_of("Zebu"), "U19");
    ASSERT_TEXT(squad_of("Lark"), "");
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING,
                                "no squad is given for 'Lark' where others "
                                "have one; they are a squad of their own"),
                    1);
    stop();
}

static void squads_of_some(void) {
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete,squad\nWren,U19\nLark,\n");
    look();
    assert_no_errors();
    ASSERT_TEXT(squad_of("Kite"), "");
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING,
                                "for 'Lark', 'Kite', 'Zebu' where others have "
                                "one; together they are"),
                    1);
    stop();
}

/* Without the column all are one squad, and nothing is said. */
static void one_squad(void) {
    read_log(four_athletes);
    CU_ASSERT_EQUAL(season->squad_names.count, 1);
    for (size_t i = 0; i < season->athlete_count; i++)
        CU_ASSERT_EQUAL(season->athletes[i].squad, 0);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "squad"), 0);
    stop();
}

static void athletes_model(void) {
    char path[400];
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete,model\nKite,classic\nLark,own.csv\n"
                         "Wren,fits/own\nZebu,/opt/m/own.csv\n");
    look();
    assert_no_errors();
    ASSERT_TEXT(athlete("Kite")->model, "classic");
    snprintf(path, sizeof path, "%s/own.csv", folder);
    ASSERT_TEXT(athlete("Lark")->model, path);
    snprintf(path, sizeof path, "%s/fits/own", folder);
    ASSERT_TEXT(athlete("Wren")->model, path);
    ASSERT_TEXT(athlete("Zebu")->model, "/opt/m/own.csv");
    stop();
}

/* Those of athletes.csv in its order, then the others by name; the sessions
 * stay with their athlete. */
static void athletes_order(void) {
    static const char *const wanted[] = {"Zebu", "Kite", "Yak", "Lark", "Wren"};
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete\nZebu\nKite\nYak\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->athlete_count, 5);
    for (size_t i = 0; i < 5; i++)
        ASSERT_TEXT(season->athletes[i].name, wanted[i]);
    LOADS("Wren", 1.5);
    LOADS("Lark", 2.5);
    LOADS("Kite", 3.5);
    LOADS("Zebu", 4.5);
    CU_ASSERT_EQUAL(athlete("Yak")->session_count, 0);
    for (size_t i = 0; i < season->session_count; i++)
        CU_ASSERT_TRUE(season->sessions[i].athlete < 5);
    CU_ASSERT_EQUAL(season_athlete(season, "Emu"), NAMES_NONE);
    stop();
}

static void names_in_other_letter_case(void) {
    read_log("date,athlete,load\n2026-03-02,kite,11.5\n2026-03-02,Kite,22.5\n"
             "2026-03-03,KITE,33.5\n");
    assert_no_errors();
    CU_ASSERT_EQUAL(season->athlete_count, 3);
    LOADS("kite", 11.5);
    LOADS("Kite", 22.5);
    LOADS("KITE", 33.5);
    check_season(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "differ only in letter case"),
                    3);
    stop();
}

/* ---- tests.csv ---- */

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

/* ---- events.csv ---- */

static void events_file(void) {
    const Event *e;
    read_with("events.csv",
              "event,start,days,weight,athlete,sessions_per_day,load_per_day,"
              "start_time\nFinal,2026-05-30,,,,,,\n"
              "Cup,2026-04-25,3,2.5,Kite,2,410.5,09:15\n"
              "Away,2026-05-30,,,Lark,,,\n");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->event_count, 3);
    e = &season->events[0];
    ASSERT_TEXT(e->name, "Cup");
    CU_ASSERT_EQUAL(e->start, date_of((Civil){2026, 4, 25}));
    CU_ASSERT_EQUAL(e->days, 3);
    ASSERT_NEAR(e->weight, 2.5, 0);
    CU_ASSERT_EQUAL(e->athlete, index_of("Kite"));
    CU_ASSERT_EQUAL(e->sessions_per_day, 2);
    ASSERT_NEAR(e->load_per_day, 410.5, 0);
    CU_ASSERT_EQUAL(e->minute, 555);
    CU_ASSERT_EQUAL(e->line, 3);
    ASSERT_TEXT(season->events[1].name, "Away");
    e = &season->events[2];
    ASSERT_TEXT(e->name, "Final");
    CU_ASSERT_EQUAL(e->days, 1);
    ASSERT_NEAR(e->weight, 1, 0);
    CU_ASSERT_EQUAL(e->athlete, NAMES_NONE);
    CU_ASSERT_EQUAL(e->sessions_per_day, 0);
    CU_ASSERT_TRUE(isnan(e->load_per_day));
    CU_ASSERT_EQUAL(e->minute, -1);
    stop();
}

/* The athletes of events are found again after they have been put in order. */
static void events_keep_their_athlete(void) {
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete\nZebu\n");
    file("events.csv", "event,start,athlete\nCup,2026-04-25,Wren\n"
                       "Cup,2026-04-25,Ant\n");
    look();
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->event_count, 2);
    for (size_t i = 0; i < 2; i++) {
        const Event *e = &season->events[i];
        CU_ASSERT_EQUAL(e->athlete, index_of(e->line == 2 ? "Wren" : "Ant"));
    }
    stop();
}

static void assert_event(const char *who, const char *asked,
                         const char *wanted) {
    const Event *e = season_event(season, index_of(who), asked);
    ASSERT_TEXT(e ? e->name : "none", wanted);
}

/* An event that starts today is no longer the next one. */
static void next_event(void) {
    start();
    file("sessions.csv", four_athletes);
    file("events.csv",
         "event,start,athlete\nLast,2026-05-30,\nToday,2026-03-02,\n"
         "Past,2026-02-01,\nHers,2026-03-20,Lark\nCup,2026-04-25,\n");
    look();
    assert_no_errors();
    assert_event("Kite", NULL, "Cup");
    assert_event("Lark", NULL, "Hers");
    assert_event("Kite", "Last", "Last");
    assert_event("Kite", "lAST", "Last");
    assert_event("Kite", "Past", "Past");
    assert_event("Lark", "Hers", "Hers");
    assert_event("Kite", "Hers", "none");
    assert_event("Kite", "Cu", "none");
    stop();
    start();
    options.today = date_of((Civil){2026, 5, 30});
    file("sessions.csv", four_athletes);
    file("events.csv", "event,start\nCup,2026-04-25\nLast,2026-05-30\n");
    look();
    assert_event("Kite", NULL, "none");
    assert_event("Kite", "Cup", "Cup");
    stop();
}

/* ---- the usual week ---- */

static Usual usual;

static void build_usual(const char *who) {
    Daily daily;
    daily_build(season, index_of(who), false, &daily);
    usual_build(season, index_of(who), &daily, &usual, &notes);
    daily_free(&daily);
}

/* The sessions of a day as "name load,name load". */
static void assert_day(Date date, const char *wanted) {
    PlannedSession sessions[USUAL_MOST];
    size_t count = usual_day(&usual, date, sessions);
    Text text = {0};
    for (size_t i = 0; i < count; i++)
        text_add(&text, "%s%s %.10g%s", i ? "," : "", sessions[i].session,
                 sessions[i].load, sessions[i].keep ? " kept" : "");
    ASSERT_TEXT(text_of(&text), wanted);
    text_free(&text);
}

/* Kite: squats 330 and 350, median 340; gym 240, 330, 350; skill 180. Lark:
 * squats and gym 120. */
static const char week_log[] = "date,athlete,session,kind,minutes,rpe\n"
                               "2026-03-02,Kite,squats,gym,60,5.5\n"
                               "2026-03-03,Kite,drills,skill,45,4\n"
                               "2026-03-04,Kite,squats,gym,50,7\n"
                               "2026-03-05,Lark,squats,gym,40,3\n"
                               "2026-03-06,Kite,pulls,gym,30,8\n";

static void read_week(const char *week) {
    start();
    file("sessions.csv", week_log);
    file("week.csv", week);
    look();
}

static const char whole_week[] =
    "weekday,session,athlete,kind,minutes,rpe,load,keep\n" /* 1 */
    "mon,squats,,gym,70,6,,\n"                             /* 420 */
    "Tue,drills,,skill,90,9,155.5,yes\n" /* the load column goes first */
    "WED,SQUATS,,gym,40,,,\n"            /* median of the session */
    "thu,benches,,gym,,,,\n"             /* median of the kind */
    "fri,squats,,gym,70,6,,\n"
    "fri,Squats,Kite,gym,20,6,,\n" /* hers in place of everyone's */
    "fri,walk,,mobility,,,12.5,yes\n"
    "sat,off,,,,,,\n"
    "2026-03-16,camp,,match,90,7,,\n"      /* Monday, everyone */
    "2026-03-18,off,Lark,,,,,\n"           /* Wednesday */
    "2026-03-20,camp,Kite,match,90,8,,\n"; /* Friday */

static void week_for_kite(void) {
    read_week(whole_week);
    build_usual("Kite");
    assert_no_errors();
    CU_ASSERT_TRUE(season->has_week);
    assert_day(march(9), "squats 420");
    assert_day(march(10), "drills 155.5 kept");
    assert_day(march(11), "SQUATS 340");
    assert_day(march(12), "benches 330");
    assert_day(march(13), "Squats 120,walk 12.5 kept");
    assert_day(march(14), "");
    assert_day(march(15), "");
    assert_day(march(16), "camp 630");
    assert_day(march(18), "SQUATS 340");
    assert_day(march(20), "camp 720");
    assert_day(march(23), "squats 420");
    /* 420 + 155.5 + 340 + 330 + 132.5 */
    ASSERT_NEAR(usual_week_load(&usual), 1378, 1e-12);
    usual_free(&usual);
    stop();
}

static void week_for_lark(void) {
    read_week(whole_week);
    build_usual("Lark");
    assert_no_errors();
    assert_day(march(11), "SQUATS 120");
    assert_day(march(12), "benches 120");
    assert_day(march(13), "squats 420,walk 12.5 kept");
    assert_day(march(16), "camp 630");
    assert_day(march(18), "");
    assert_day(march(20), "squats 420,walk 12.5 kept");
    /* 420 + 155.5 + 120 + 120 + 432.5 */
    ASSERT_NEAR(usual_week_load(&usual), 1248, 1e-12);
    usual_free(&usual);
    stop();
}

static void week_fields(void) {
    PlannedSession sessions[USUAL_MOST];
    read_week("weekday,session,athlete,kind,minutes,rpe,load,keep\n"
              "mon,squats,,gym,70,6.5,,\nmon,walk,Lark,mobility,,,12.5,yes\n"
              "2026-03-17,OFF,,,,,,\n");
    CU_ASSERT_EQUAL_FATAL(season->week_count, 3);
    CU_ASSERT_EQUAL(season->week[0].weekday, 0);
    CU_ASSERT_EQUAL(season->week[0].date, DATE_NONE);
    CU_ASSERT_EQUAL(season->week[0].athlete, NAMES_NONE);
    CU_ASSERT_FALSE(season->week[0].keep || season->week[0].off);
    CU_ASSERT_EQUAL(season->week[1].athlete, index_of("Lark"));
    CU_ASSERT_TRUE(season->week[1].keep);
    CU_ASSERT_EQUAL(season->week[2].weekday, -1);
    CU_ASSERT_EQUAL(season->week[2].date, march(17));
    CU_ASSERT_TRUE(season->week[2].off);
    CU_ASSERT_EQUAL(season->week[2].line, 4);
    build_usual("Kite");
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(9), sessions), 1);
    CU_ASSERT_EQUAL(sessions[0].kind, KIND_GYM);
    ASSERT_NEAR(sessions[0].minutes, 70, 0);
    ASSERT_NEAR(sessions[0].rpe, 6.5, 0);
    ASSERT_NEAR(sessions[0].load, 455, 0);
    usual_free(&usual);
    stop();
}

/* Neither a session nor a kind of the log; for Lark also the skill session. */
static void week_of_a_team(void) {
    PlannedSession sessions[USUAL_MOST];
    read_week("weekday,session,kind,minutes,least_minutes,rpe,team\n"
              "mon,drills,skill,70,45,6.5,yes\nmon,squats,gym,50,,5,no\n");
    build_usual("Kite");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(9), sessions), 2);
    ASSERT_NEAR(sessions[0].least_minutes, 45, 0);
    CU_ASSERT_TRUE(sessions[0].team);
    CU_ASSERT_TRUE(isnan(sessions[1].least_minutes));
    CU_ASSERT_FALSE(sessions[1].team);
    usual_free(&usual);
    stop();
}

static void week_without_a_load(void) {
    const Note *note;
    read_week("weekday,session,kind,load\nmon,scrum,match,\n"
              "tue,drills,skill,\nwed,squats,gym,\nthu,dance,other,5.5\n");
    assert_no_errors();
    build_usual("Kite");
    CU_ASSERT_EQUAL(notes.errors, 1);
    note = test_note(&notes, "'scrum'");
    assert_place(note, "error week.csv:2: load");
    ASSERT_HAS(note ? note->text : NULL, "Kite");
    ASSERT_HAS(note ? note->text : NULL, "expected a load, minutes and rpe");
    usual_free(&usual);
    build_usual("Lark");
    CU_ASSERT_EQUAL(notes.errors, 3);
    assert_place(test_note(&notes, "'drills'"), "error week.csv:3: load");
    usual_free(&usual);
    stop();
}

/* 4 x 6 x 82.5 kg + 3 x 10 x 45 lb (x 0.45359237) = 1980 + 612.3496995; a
 * percentage alone adds nothing. The log's own volume is 2 x 5 x 61 = 610. */
static void week_by_volume(void) {
    start();
    file("sessions.csv", "date,session,sets,reps,kg\n2026-03-02,legs,2,5,61\n"
                         "2026-03-02,arms,2,5,17.5\n");
    file("week.csv", "weekday,session\nmon,legs\ntue,arms\n");
    file("exercises.csv", "session,exercise,sets,reps,kg,lb,percent_1rm,keep\n"
                          "Legs,squat,4,6,82.5,,,\nlegs,lunge,3,10,,45,,yes\n"
                          "legs,press,5,5,,,72.5,no\n");
    look();
    build_usual("athlete");
    assert_no_errors();
    assert_day(march(9), "legs 2592.3497"); /* 2592.3496995 */
    assert_day(march(10), "arms 175");
    ASSERT_NEAR(usual_week_load(&usual), 2767.3496995, 1e-12);
    usual_free(&usual);
    stop();
}

static void exercises_file(void) {
    const Exercise *x;
    read_with("exercises.csv",
              "reps,sets,exercise,session,kg,lb,percent_1rm,keep\n"
              "6,4,squat,legs,82.5,,,\n10,3,lunge,legs,,45,,yes\n"
              "5,5,press,arms,,,72.5,no\n");
    assert_no_errors();
    CU_ASSERT_EQUAL_FATAL(season->exercise_count, 3);
    x = season->exercises;
    ASSERT_TEXT(x[0].session, "legs");
    ASSERT_TEXT(x[0].exercise, "squat");
    ASSERT_NEAR(x[0].sets, 4, 0);
    ASSERT_NEAR(x[0].reps, 6, 0);
    ASSERT_NEAR(x[0].kg, 82.5, 0);
    CU_ASSERT_TRUE(isnan(x[0].percent) && !x[0].keep);
    ASSERT_NEAR(x[1].kg, 20.41165665, 1e-12); /* 45 lb */
    CU_ASSERT_TRUE(x[1].keep);
    CU_ASSERT_TRUE(isnan(x[2].kg) && !x[2].keep);
    ASSERT_NEAR(x[2].percent, 72.5, 0);
    CU_ASSERT_EQUAL(x[2].line, 4);
    stop();
}

/* 35 days from Monday 2 February; the first week is not among the last 28.
 * Monday (310 + 290 + 331 + 0)/4, Wednesday (120 + 0 + 180 + 60)/4, Friday
 * 77/4, Sunday (55 + 45.5)/4. */
/* Full weeks of 2715, 485, 367, 511 and 105.5: their median is 485, so the last
 * one is far below. Ten sessions in the four others make 2.5 a week, three in
 * whole numbers: the four Mondays, the three Wednesdays, then the two Fridays.
 * Median of 903, 310, 290, 331; of 905, 120, 180; of 907, 77. */
static void usual_week_from_the_log(void) {
    read_log("date,load\n2026-02-02,903\n2026-02-04,905\n2026-02-06,907\n"
             "2026-02-09,310\n2026-02-11,120\n2026-02-15,55\n"
             "2026-02-16,290\n2026-02-20,77\n2026-02-23,331\n"
             "2026-02-25,180\n2026-03-04,60\n2026-03-08,45.5\n");
    build_usual("athlete");
    assert_no_errors();
    CU_ASSERT_FALSE(usual.written);
    CU_ASSERT_EQUAL(usual.draft.days, 28);
    ASSERT_NEAR(usual.draft.week_load, 1019.5, 1e-12);
    assert_day(march(9), "usual training 320.5");
    assert_day(march(10), "");
    assert_day(march(11), "usual training 180");
    assert_day(march(13), "usual training 492");
    assert_day(march(15), "");
    ASSERT_NEAR(usual_week_load(&usual), 992.5, 1e-12);
    usual_free(&usual);
    stop();
}

/* Four days only, of which one is not recorded. */
static void usual_week_from_a_short_log(void) {
    read_log("date,load\n2026-03-02,310.5\n2026-03-03,\n2026-03-05,88\n");
    build_usual("athlete");
    assert_no_errors();
    CU_ASSERT_EQUAL(usual.draft.days, 3);
    assert_day(march(9), "usual training 310.5");
    assert_day(march(10), "");
    assert_day(march(12), "usual training 88");
    usual_free(&usual);
    stop();
}

/* Sessions as they are called, with their kind, minutes and rating; two of one
 * name on a day; every other week's second session falls out behind what comes
 * back each week. 75 x 6 = 450; 20 x 3 = 60; 45 x 5 = 225, and again. */
static void usual_week_of_sessions(void) {
    PlannedSession sessions[USUAL_MOST];
    read_log("date,time,session,kind,minutes,rpe\n"
             "2026-03-02,18:00,Drills,skill,80,6\n"
             "2026-03-02,17:00,Stretching,mobility,20,3\n"
             "2026-03-05,09:00,Gym,gym,45,5\n2026-03-05,17:00,Gym,gym,45,5\n"
             "2026-03-08,,Match,match,,\n"
             "2026-03-09,18:00,Drills,skill,70,6\n"
             "2026-03-09,17:00,Stretching,mobility,20,3\n"
             "2026-03-12,09:00,Gym,gym,45,5\n2026-03-12,17:00,Gym,gym,45,5\n"
             "2026-03-14,,Swim,other,30,2\n2026-03-15,,Swim,other,31,2\n"
             "2026-03-16,17:00,Stretching,mobility,20,3\n"
             "2026-03-16,18:00,Drills,skill,75,6\n"
             "2026-03-19,09:00,Gym,gym,45,5\n2026-03-19,17:00,Gym,gym,45,5\n"
             "2026-03-22,,Rest,other,0,0\n");
    build_usual("athlete");
    CU_ASSERT_EQUAL(usual.draft.days, 14);
    assert_day(march(23), "Stretching 60 kept,Drills 435");
    assert_day(march(26), "Gym 225,Gym 225");
    assert_day(march(28), "");
    assert_day(march(29), "Swim 62");
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(23), sessions), 2);
    CU_ASSERT_EQUAL(sessions[1].kind, KIND_SKILL);
    ASSERT_NEAR(sessions[1].minutes, 72.5, 0);
    ASSERT_NEAR(sessions[1].rpe, 6, 0);
    usual_free(&usual);
    stop();
}

/* Twelve weeks at 300 four times a week, the last two of them ill: the weeks
 * before those tell what is usual. */
static void usual_week_without_illness(void) {
    Text log = {0};
    char day[DATE_TEXT];
    text_add(&log, "date,load\n");
    for (int week = 0; week < 12; week++)
        for (int k = 0; k < 7; k += 2)
            text_add(&log, "%s,%d\n", date_write(day, march(2) + 7 * week + k),
                     week < 10 ? 300 : 40);
    read_log(text_of(&log));
    build_usual("athlete");
    ASSERT_NEAR(usual_week_load(&usual), 1200, 1e-12);
    ASSERT_NEAR(usual.draft.week_load, 1200, 1e-12);
    usual_free(&usual);
    stop();
    text_free(&log);
}

static const char usual_log[] =
    "date,athlete,session,load\n2026-03-02,Ada,Gym,310\n2026-03-04,Ada,Run,"
    "205\n"
    "2026-03-08,Ada,Match,415\n2026-03-02,Bea,Gym,330\n2026-03-06,Bea,Run,110\n"
    "2026-03-08,Bea,Match,425\n";

static void read_usual(const char *week) {
    start();
    file("sessions.csv", usual_log);
    file("week.csv", week);
    look();
    assert_no_errors();
}

/* Rows of dates alone change those days. */
static void week_of_dates_alone(void) {
    read_usual("weekday,session,athlete,load\n2026-03-11,off,,\n"
               "2026-03-16,Camp,,510\n2026-03-18,off,Bea,\n");
    build_usual("Ada");
    CU_ASSERT_FALSE(usual.written);
    assert_day(march(9), "Gym 310");
    assert_day(march(11), "");
    assert_day(march(15), "Match 415");
    assert_day(march(16), "Camp 510");
    assert_day(march(18), "Run 205");
    ASSERT_NEAR(usual_week_load(&usual), 930, 1e-12);
    usual_free(&usual);
    build_usual("Bea");
    assert_day(march(13), "Run 110");
    assert_day(march(16), "Camp 510");
    assert_day(march(18), "");
    usual_free(&usual);
    CU_ASSERT_EQUAL(notes.count, 0);
    stop();
}

/* Rows of one athlete leave the others' weeks as they are. */
static void week_of_one_athlete(void) {
    read_usual("weekday,session,athlete,load\ntue,Swim,Bea,95\n");
    build_usual("Ada");
    assert_day(march(9), "Gym 310");
    assert_day(march(10), "");
    usual_free(&usual);
    build_usual("Bea");
    CU_ASSERT_TRUE(usual.written);
    assert_day(march(9), "");
    assert_day(march(10), "Swim 95");
    usual_free(&usual);
    stop();
}

/* A weekday off clears it and no other day. */
static void week_with_a_day_off(void) {
    read_usual("weekday,session,athlete,load\nsun,off,,\n");
    build_usual("Ada");
    assert_day(march(9), "Gym 310");
    assert_day(march(15), "");
    usual_free(&usual);
    stop();
}

/* Off for everyone clears what is everyone's; with a name, all of that day. */
static void week_off_and_names(void) {
    read_usual("weekday,session,athlete,load\nmon,Gym,,300\nmon,Swim,Ada,90\n"
               "wed,Run,,200\n2026-03-16,off,,\n2026-03-16,Swim,Ada,95\n"
               "2026-03-18,Camp,,400\n2026-03-18,off,Ada,\n"
               "2026-03-23,off,Ada,\n");
    build_usual("Ada");
    assert_day(march(9), "Gym 300,Swim 90");
    assert_day(march(16), "Swim 95");
    assert_day(march(18), "");
    assert_day(march(23), "");
    usual_free(&usual);
    build_usual("Bea");
    assert_day(march(16), "");
    assert_day(march(18), "Camp 400");
    assert_day(march(23), "Gym 300");
    usual_free(&usual);
    CU_ASSERT_EQUAL(notes.count, 0);
    stop();
}

/* A session of no minutes is none that could be cut. */
static void week_with_no_minutes(void) {
    PlannedSession sessions[USUAL_MOST];
    read_week("weekday,session,kind,minutes,rpe\nmon,squats,gym,70,6\n"
              "wed,Rest,other,0,0\n");
    build_usual("Kite");
    CU_ASSERT_EQUAL_FATAL(usual_day(&usual, march(11), sessions), 1);
    ASSERT_NEAR(sessions[0].load, 0, 0);
    CU_ASSERT_TRUE(isnan(sessions[0].minutes));
    usual_free(&usual);
    stop();
}

/* Rows that do nothing, or twice what they seem to. */
static void week_rows_are_judged(void) {
    static const struct {
        const char *rows, *place, *said;
    } cases[] = {
        {"mon,Gym,,300\nmon,Gym,,300\n", "3",
         "the same as on line 2, and both"},
        {"sun,off,,\nsun,Off,,\n", "3", "on line 2, and once would do"},
        {"mon,Gym,,300\nmon,off,,\n", "2", "since line 3 says 'off'"},
        {"2026-03-11,Run,Ada,95\n2026-03-11,off,Ada,\n", "2",
         "'Run' does not count, since line 3"},
        {"2025-03-12,off,,\n", "2",
         "'2025-03-12' is not after the log, which ends on 2026-03-08"},
        {"2026-03-08,off,Bea,\n", "2", "'2026-03-08' is not after the log"},
        {"2026-04-11,Gym,,300\n", "2",
         "'2026-04-11' is a day of the event 'Cup', whose own load"},
        {"2026-04-12,off,Bea,\n", "2", "'2026-04-12' is a day of the event"},
        {"2026-04-13,Gym,,300\n", "2",
         "'2026-04-13' is after the last event, 'Cup'"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char place[100];
        Text week = {0};
        start();
        file("sessions.csv", usual_log);
        file("events.csv", "event,start,days\nCup,2026-04-11,2\n");
        text_add(&week, "weekday,session,athlete,load\n%s", cases[i].rows);
        file("week.csv", text_of(&week));
        look();
        assert_no_errors();
        CU_ASSERT_EQUAL(notes.count, 1);
        snprintf(place, sizeof place, "warning week.csv:%s: weekday",
                 cases[i].place);
        assert_place(test_note(&notes, cases[i].said), place);
        text_free(&week);
        stop();
    }
}

/* What others log says nothing of an athlete's own days. */
static void log_that_ends_early(void) {
    static const char *const mates[] = {"", "2026-03-15,Bea,Gym,330\n"};
    for (int i = 0; i < 2; i++) {
        Text log = {0};
        Daily d;
        text_add(&log, "%s2026-03-10,Ada,Gym,305\n%s", usual_log, mates[i]);
        start();
        file("sessions.csv", text_of(&log));
        look();
        daily_build(season, index_of("Ada"), false, &d);
        CU_ASSERT_EQUAL(d.days, 9);
        daily_free(&d);
        build_usual("Ada");
        usual_free(&usual);
        CU_ASSERT_EQUAL(
            count_notes(LEVEL_WARNING,
                        "the log of 'Ada' ends on 2026-03-10, 5 days before"),
            (size_t)i);
        text_free(&log);
        stop();
    }
}

static void median_of_sessions(void) {
    read_log(week_log);
    ASSERT_NEAR(usual_median(season, index_of("Kite"), "Squats", 0), 340, 0);
    ASSERT_NEAR(usual_median(season, index_of("Kite"), NULL, KIND_GYM), 330, 0);
    ASSERT_NEAR(usual_median(season, index_of("Lark"), "squats", 0), 120, 0);
    CU_ASSERT_TRUE(isnan(usual_median(season, index_of("Lark"), "drills", 0)));
    CU_ASSERT_TRUE(
        isnan(usual_median(season, index_of("Kite"), NULL, KIND_MATCH)));
    stop();
}

/* ---- day by day ---- */

static void assert_kinds(const Daily *d, const char *wanted) {
    static const char letters[] = "trg?";
    char text[MOST + 1] = "";
    for (size_t i = 0; i < d->days && i < MOST; i++)
        text[i] = letters[d->kind[i]];
    ASSERT_TEXT(text, wanted);
}

/* Days 2 to 12 March, the rows not in order; 5 to 11 March are empty. */
static const char gap_log[] = "date,load\n2026-03-12,180\n2026-03-02,210\n"
                              "2026-03-04,95\n2026-03-02,140.5\n";

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

/* ---- today ---- */

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

/* ---- the order of rows ---- */

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

/* ---- check ---- */

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

/* ---- hostile names ---- */

static const char *const hostile[] = {
    "Ki\"te, \"the second\"",
    "Ki\nte",
    "\xF0\x9F\x8F\x92 Lark",    /* emoji */
    "\xD7\xA2\xD7\x95\xD7\xA4", /* right to left */
    "\xE2\x80\xAE"
    "etiK", /* a right-to-left override */
    "=1+2|x",
    "<b>&amp;'Kite'</b>",
    "$(reboot) `x` %s %n \\",
    "../../Kite",
    "e\xCC\x81\xE2\x80\x8D"
    "x"};

enum { HOSTILE = sizeof hostile / sizeof hostile[0] };

static void add_quoted(Text *text, const char *name) {
    text_put(text, "\"", 1);
    for (; *name; name++) {
        text_put(text, name, 1);
        if (*name == '"')
            text_put(text, "\"", 1);
    }
    text_put(text, "\"", 1);
}

static void hostile_names_are_text(void) {
    for (size_t i = 0; i < HOSTILE; i++) {
        Text text = {0};
        text_add(&text, "date,athlete,session,load\n2026-03-02,");
        add_quoted(&text, hostile[i]);
        text_add(&text, ",");
        add_quoted(&text, hostile[i]);
        text_add(&text, ",231.5\n");
        read_log(text_of(&text));
        text_free(&text);
        assert_no_errors();
        LOADS(hostile[i], 231.5);
        ASSERT_TEXT(season->session_names.items[0], hostile[i]);
        check_season(season, &notes);
        CU_ASSERT_EQUAL(notes.count, 0);
        stop();
    }
}

static void hostile_names_elsewhere(void) {
    for (size_t i = 0; i < HOSTILE; i++) {
        Text events = {0}, wide = {0};
        text_add(&events, "start,event\n2026-04-25,");
        add_quoted(&events, hostile[i]);
        text_add(&wide, "date,");
        add_quoted(&wide, hostile[i]);
        text_add(&wide, ",Wren\n2026-03-02,231.5,77\n");
        start();
        file("events.csv", text_of(&events));
        file("sessions.csv", text_of(&wide));
        look();
        assert_no_errors();
        LOADS(hostile[i], 231.5);
        CU_ASSERT_EQUAL_FATAL(season->event_count, 1);
        ASSERT_TEXT(season->events[0].name, hostile[i]);
        stop();
        text_free(&events);
        text_free(&wide);
    }
}

static const TestCase cases[] = {
    {"trimp_formula", trimp_formula},
    {"simple_formulas", simple_formulas},
    {"monotony_and_strain", monotony_and_strain},
    {"median", median},
    {"names_are_numbered", names_are_numbered},
    {"names_beginnings", names_beginnings},
    {"load_column", load_column},
    {"session_rpe_columns", session_rpe_columns},
    {"trimp_columns", trimp_columns},
    {"trimp_needs_the_athlete", trimp_needs_the_athlete},
    {"zones_columns", zones_columns},
    {"volume_columns", volume_columns},
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
    {"maps", maps},
    {"unused_map_is_an_error", unused_map_is_an_error},
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
    {"wide_table", wide_table},
    {"wide_table_with_text", wide_table_with_text},
    {"wide_table_without_a_column", wide_table_without_a_column},
    {"wide_table_with_control_characters", wide_table_with_control_characters},
    {"bad_cells_of_sessions", bad_cells_of_sessions},
    {"bad_cells_of_athletes", bad_cells_of_athletes},
    {"bad_cells_of_tests", bad_cells_of_tests},
    {"bad_cells_of_events", bad_cells_of_events},
    {"bad_cells_of_week", bad_cells_of_week},
    {"bad_cells_of_exercises", bad_cells_of_exercises},
    {"every_problem_of_a_row", every_problem_of_a_row},
    {"every_bad_row_is_told", every_bad_row_is_told},
    {"cells_on_the_limits", cells_on_the_limits},
    {"missing_columns", missing_columns},
    {"header_only", header_only},
    {"not_a_text_file", not_a_text_file},
    {"heart_rate_outside", heart_rate_outside},
    {"athletes_file", athletes_file},
    {"squads", squads},
    {"squads_of_some", squads_of_some},
    {"one_squad", one_squad},
    {"athletes_model", athletes_model},
    {"athletes_order", athletes_order},
    {"names_in_other_letter_case", names_in_other_letter_case},
    {"tests_file", tests_file},
    {"tests_better_said_once", tests_better_said_once},
    {"tests_of_one_athlete", tests_of_one_athlete},
    {"events_file", events_file},
    {"events_keep_their_athlete", events_keep_their_athlete},
    {"next_event", next_event},
    {"week_for_kite", week_for_kite},
    {"week_for_lark", week_for_lark},
    {"week_fields", week_fields},
    {"week_of_a_team", week_of_a_team},
    {"week_without_a_load", week_without_a_load},
    {"week_by_volume", week_by_volume},
    {"exercises_file", exercises_file},
    {"usual_week_from_the_log", usual_week_from_the_log},
    {"usual_week_from_a_short_log", usual_week_from_a_short_log},
    {"usual_week_of_sessions", usual_week_of_sessions},
    {"usual_week_without_illness", usual_week_without_illness},
    {"week_of_dates_alone", week_of_dates_alone},
    {"week_of_one_athlete", week_of_one_athlete},
    {"week_with_a_day_off", week_with_a_day_off},
    {"week_off_and_names", week_off_and_names},
    {"week_with_no_minutes", week_with_no_minutes},
    {"week_rows_are_judged", week_rows_are_judged},
    {"log_that_ends_early", log_that_ends_early},
    {"median_of_sessions", median_of_sessions},
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
    {"today_before_the_last_day", today_before_the_last_day},
    {"today_at_and_after_the_end", today_at_and_after_the_end},
    {"today_before_the_log", today_before_the_log},
    {"today_and_fill", today_and_fill},
    {"blanks_around_names", blanks_around_names},
    {"a_stray_year", a_stray_year},
    {"order_of_rows_is_no_matter", order_of_rows_is_no_matter},
    {"one_row_out_of_order", one_row_out_of_order},
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
    {"check_finds_nothing_amiss", check_finds_nothing_amiss},
    {"hostile_names_are_text", hostile_names_are_text},
    {"hostile_names_elsewhere", hostile_names_elsewhere},
    {NULL, NULL}};

const TestSuite suite_season = {"season", cases};
