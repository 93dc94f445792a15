/* status: the first trouble counts; notes, their places and sorts.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include <string.h>

static void status_keeps_the_first(void) {
    Status status = {0};
    CU_ASSERT_EQUAL(status_fail(&status, STATUS_USAGE, "no '%s'", "taper"),
                    STATUS_USAGE);
    CU_ASSERT_EQUAL(status_fail(&status, STATUS_SYSTEM, "disk"), STATUS_USAGE);
    CU_ASSERT_EQUAL(status.code, STATUS_USAGE);
    ASSERT_TEXT(status.text, "no 'taper'");
}

static void status_cuts(void) {
    Status status = {0};
    char text[3 * STATUS_TEXT];
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    status_fail(&status, STATUS_DATA, "%s", text);
    CU_ASSERT_EQUAL(strlen(status.text), STATUS_TEXT - 1);
}

static void level_words(void) {
    ASSERT_TEXT(level_name(LEVEL_NOTICE), "notice");
    ASSERT_TEXT(level_name(LEVEL_WARNING), "warning");
    ASSERT_TEXT(level_name(LEVEL_ERROR), "error");
}

static void notes_codes(void) {
    Notes notes = {0};
    Place place = {"sessions.csv", 17, "load"};
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_OK);
    notes_add(&notes, LEVEL_NOTICE, place, "one");
    notes_add(&notes, LEVEL_WARNING, place, "two");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_OK);
    CU_ASSERT_EQUAL(notes.errors, 0);
    notes_add(&notes, LEVEL_ERROR, place, "three");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    notes_add_system(&notes, place, "four %d", 4);
    notes_add(&notes, LEVEL_ERROR, place, "five");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    CU_ASSERT_EQUAL(notes.errors, 3);
    CU_ASSERT_EQUAL(notes.count, 5);
    notes_free(&notes);
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_OK);
}

/* Notes keep copies, and places with parts missing. */
static void notes_keep_places(void) {
    Notes notes = {0};
    char file[] = "tests.csv", column[] = "value";
    notes_add(&notes, LEVEL_ERROR, (Place){file, 31, column}, "reads '%s'",
              "x");
    notes_add(&notes, LEVEL_NOTICE, (Place){0}, "said");
    file[0] = column[0] = '?';
    CU_ASSERT_EQUAL_FATAL(notes.count, 2);
    ASSERT_TEXT(notes.items[0].file, "tests.csv");
    ASSERT_TEXT(notes.items[0].column, "value");
    ASSERT_TEXT(notes.items[0].text, "reads 'x'");
    CU_ASSERT_EQUAL(notes.items[0].line, 31);
    CU_ASSERT_EQUAL(notes.items[0].level, LEVEL_ERROR);
    CU_ASSERT_PTR_NULL(notes.items[1].file);
    CU_ASSERT_PTR_NULL(notes.items[1].column);
    CU_ASSERT_EQUAL(notes.items[1].line, 0);
    notes_free(&notes);
}

static void notes_repeats(void) {
    static const struct {
        Level level;
        Place place;
        const char *text;
        size_t count; /* of notes after adding this one */
    } rows[] = {
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odd", 1},
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odd", 1},
        {LEVEL_WARNING, {"a.csv", 8, "load"}, "odd", 2},
        {LEVEL_WARNING, {"b.csv", 7, "load"}, "odd", 3},
        {LEVEL_WARNING, {"a.csv", 7, "kind"}, "odd", 4},
        {LEVEL_NOTICE, {"a.csv", 7, "load"}, "odd", 5},
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odder", 6},
        {LEVEL_WARNING, {"a.csv", 7, NULL}, "odd", 7},
        {LEVEL_WARNING, {NULL, 7, "load"}, "odd", 8},
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odd", 8},
    };
    Notes notes = {0};
    for (size_t i = 0; i < COUNT(rows); i++) {
        notes_add(&notes, rows[i].level, rows[i].place, "%s", rows[i].text);
        CU_ASSERT_EQUAL(notes.count, rows[i].count);
    }
    notes_free(&notes);
}

/* Same level, file and column, and texts alike but for numbers and quotes. */
static void notes_sorts(void) {
    static const struct {
        Level level;
        Place place;
        const char *text;
        size_t sort, alike;
    } rows[] = {
        {LEVEL_ERROR, {"a.csv", 2, "load"}, "'x' is not a number", 0, 0},
        {LEVEL_ERROR, {"a.csv", 3, "load"}, "'12 y' is not a number", 0, 1},
        {LEVEL_ERROR, {"a.csv", 4, "kind"}, "'x' is not a number", 1, 0},
        {LEVEL_ERROR, {"b.csv", 5, "load"}, "'x' is not a number", 2, 0},
        {LEVEL_WARNING, {"a.csv", 6, "load"}, "'x' is not a number", 3, 0},
        {LEVEL_ERROR, {"a.csv", 7, "load"}, "'x' is not a day", 4, 0},
        {LEVEL_ERROR, {"a.csv", 8, "load"}, "has 3 cells", 5, 0},
        {LEVEL_ERROR, {"a.csv", 9, "load"}, "has 41 cells", 5, 1},
        {LEVEL_ERROR, {"a.csv", 10, "load"}, "has 41 cells and more", 6, 0},
        {LEVEL_ERROR, {"a.csv", 11, "load"}, "'' is not a number", 0, 2},
        {LEVEL_ERROR, {"a.csv", 12, "load"}, "it's 5", 7, 0},
        {LEVEL_ERROR, {"a.csv", 13, "load"}, "it's 66", 7, 1},
    };
    Notes notes = {0};
    for (size_t i = 0; i < COUNT(rows); i++) {
        notes_add(&notes, rows[i].level, rows[i].place, "%s", rows[i].text);
        check_row(notes.items[i].sort == rows[i].sort &&
                      notes.items[i].alike == rows[i].alike,
                  "sort and number of those alike", rows[i].text);
    }
    CU_ASSERT_EQUAL(notes.sorts[0].first, 0);
    CU_ASSERT_EQUAL(notes.sorts[0].count, 3);
    CU_ASSERT_EQUAL(notes.sorts[7].first, 10);
    notes_free(&notes);
}

/* More sorts than are told apart: nothing is lost. */
static void notes_many_sorts(void) {
    enum { MORE = NOTE_SORTS + 40 };
    Notes notes = {0};
    size_t sum = 0;
    for (int i = 0; i < MORE; i++) {
        char column[3] = {(char)('a' + i / 26), (char)('a' + i % 26), '\0'};
        notes_add(&notes, LEVEL_ERROR, (Place){"a.csv", 3, column}, "odd");
    }
    CU_ASSERT_EQUAL(notes.count, MORE);
    CU_ASSERT_EQUAL(notes.sort_count, NOTE_SORTS);
    for (size_t i = 0; i < notes.sort_count; i++)
        sum += notes.sorts[i].count;
    CU_ASSERT_EQUAL(sum, MORE);
    notes_free(&notes);
}

static void notes_dropping(void) {
    Notes notes = {0};
    for (size_t i = 0; i < NOTES_KEPT + 7; i++)
        notes_add(&notes, i % 2 ? LEVEL_ERROR : LEVEL_WARNING,
                  (Place){"sessions.csv", i + 2, "load"}, "row %zu", i);
    CU_ASSERT_EQUAL(notes.count, NOTES_KEPT);
    CU_ASSERT_EQUAL(notes.dropped, 7);
    CU_ASSERT_EQUAL(notes.errors, (NOTES_KEPT + 7) / 2);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    /* a graver error counts even when its note is not kept */
    notes_add_system(&notes, (Place){"tests.csv", 0, NULL}, "cannot be read");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    notes_free(&notes);
}

/* Notes that are not kept count in the list they are moved to, and so do
 * errors said again. */
static void notes_moving(void) {
    Notes notes = {0}, all = {0};
    Place place = {"sessions.csv", 0, "load"};
    notes_add(&all, LEVEL_ERROR, place, "before");
    for (size_t i = 0; i < NOTES_KEPT + 6; i++)
        notes_add(&notes, LEVEL_WARNING, place, "row %zu", i);
    notes_add_system(&notes, place, "cannot be read");
    notes_move(&notes, &all);
    CU_ASSERT_EQUAL(notes.count + notes.errors + notes.dropped, 0);
    CU_ASSERT_EQUAL(all.count, NOTES_KEPT);
    CU_ASSERT_EQUAL(all.dropped, 1 + 7);
    CU_ASSERT_EQUAL(all.errors, 2);
    CU_ASSERT_EQUAL(notes_code(&all), STATUS_SYSTEM);
    notes_free(&all);
    notes_add(&notes, LEVEL_ERROR, place, "twice");
    notes_add(&notes, LEVEL_ERROR, place, "twice");
    notes_move(&notes, &all);
    CU_ASSERT_EQUAL(all.count, 1);
    CU_ASSERT_EQUAL(all.errors, 2);
    notes_free(&all);
}

static const TestCase cases[] = {
    {"status_keeps_the_first", status_keeps_the_first},
    {"status_cuts", status_cuts},
    {"level_words", level_words},
    {"notes_codes", notes_codes},
    {"notes_keep_places", notes_keep_places},
    {"notes_repeats", notes_repeats},
    {"notes_sorts", notes_sorts},
    {"notes_many_sorts", notes_many_sorts},
    {"notes_dropping", notes_dropping},
    {"notes_moving", notes_moving},
    {NULL, NULL}};

const TestSuite suite_base_status = {"base", cases};
