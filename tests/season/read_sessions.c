/* read_sessions: wide tables, a column an athlete.
 *
 * Sums and medians were made by hand from the log beside them. 2026-03-02 is a
 * Monday.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include <math.h>

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

static const TestCase cases[] = {
    {"wide_table", wide_table},
    {"wide_table_with_text", wide_table_with_text},
    {"wide_table_without_a_column", wide_table_without_a_column},
    {"wide_table_with_control_characters", wide_table_with_control_characters},
    {NULL, NULL}};

const TestSuite suite_season_read_sessions = {"season", cases};
