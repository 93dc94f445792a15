/* read_athletes: athletes, their squads and models.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/check.h"
#include "season/names.h"
#include "season/season.h"

#include <math.h>
#include <stdio.h>

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

/* Rates at the bounds that messages name are taken. */
static void rates_at_bounds(void) {
    start();
    file("sessions.csv", four_athletes);
    file("athletes.csv", "athlete,hr_rest,hr_max\nWren,20,100\nKite,120,250\n");
    look();
    assert_no_errors();
    ASSERT_NEAR(athlete("Wren")->hr_rest, 20, 0);
    ASSERT_NEAR(athlete("Wren")->hr_max, 100, 0);
    ASSERT_NEAR(athlete("Kite")->hr_rest, 120, 0);
    ASSERT_NEAR(athlete("Kite")->hr_max, 250, 0);
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
    check_alike(season, &notes);
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "only in letter case"), 3);
    check_season(season, &notes); /* does not say it again */
    CU_ASSERT_EQUAL(count_notes(LEVEL_WARNING, "only in letter case"), 3);
    stop();
}

static const TestCase cases[] = {
    {"athletes_file", athletes_file},
    {"rates_at_bounds", rates_at_bounds},
    {"squads", squads},
    {"squads_of_some", squads_of_some},
    {"one_squad", one_squad},
    {"athletes_model", athletes_model},
    {"athletes_order", athletes_order},
    {"names_in_other_letter_case", names_in_other_letter_case},
    {NULL, NULL}};

const TestSuite suite_season_read_athletes = {"season", cases};
