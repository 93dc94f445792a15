/* reading: see reading.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "season/daily.h"
#include "season/load.h"
#include "season/names.h"
#include "season/season.h"
#include "season/usual.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *folder;

SeasonOptions options;

Notes notes;

Season *season;

void start(void) {
    folder = test_folder();
    options = (SeasonOptions){.load = LOAD_FIRST_COMPLETE, .today = DATE_NONE};
    notes = (Notes){0};
    season = NULL;
}

void file(const char *name, const char *content) {
    test_file(0, name, content);
}

void look(void) {
    season = season_read(folder, &options, &notes);
}

void stop(void) {
    season_free(season);
    notes_free(&notes);
    test_folder_done();
}

void read_log(const char *content) {
    start();
    file("sessions.csv", content);
    look();
}

void read_with(const char *name, const char *content) {
    start();
    file("sessions.csv", "date,athlete,load\n2026-03-02,Kite,231.5\n");
    file(name, content);
    look();
}

Date march(int day) {
    return date_of((Civil){2026, 3, day});
}

size_t index_of(const char *name) {
    size_t who = season_athlete(season, name);
    CU_ASSERT_NOT_EQUAL_FATAL(who, NAMES_NONE);
    return who;
}

const Athlete *athlete(const char *name) {
    return &season->athletes[index_of(name)];
}

void assert_values(const double *values, size_t count, const double *wanted,
                   size_t wanted_count) {
    CU_ASSERT_EQUAL_FATAL(count, wanted_count);
    for (size_t i = 0; i < count; i++) {
        if (isnan(wanted[i])) {
            CU_ASSERT_TRUE(isnan(values[i]));
        } else {
            ASSERT_NEAR(values[i], wanted[i], 1e-12);
        }
    }
}

void assert_loads(const char *name, const double *wanted, size_t count) {
    const Athlete *a = athlete(name);
    double values[MOST];
    CU_ASSERT_FATAL(a->session_count <= MOST);
    for (size_t i = 0; i < a->session_count; i++)
        values[i] = a->sessions[i].load;
    assert_values(values, a->session_count, wanted, count);
}

void assert_no_errors(void) {
    const char *first = "";
    for (size_t i = notes.count; i-- > 0;)
        if (notes.items[i].level == LEVEL_ERROR)
            first = notes.items[i].text;
    ASSERT_TEXT(first, "");
    CU_ASSERT_EQUAL(notes.errors, 0);
}

size_t count_notes(Level level, const char *part) {
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

void assert_place(const Note *note, const char *wanted) {
    char text[400] = "no such note";
    if (note)
        snprintf(text, sizeof text, "%s %s:%zu: %s", level_name(note->level),
                 base_name(note->file), note->line,
                 note->column ? note->column : "-");
    ASSERT_TEXT(text, wanted);
}

const char four_athletes[] =
    "date,athlete,load\n2026-03-02,Wren,1.5\n2026-03-02,Lark,2.5\n"
    "2026-03-02,Kite,3.5\n2026-03-02,Zebu,4.5\n";

Usual usual;

void build_usual(const char *who) {
    Daily daily;
    daily_build(season, index_of(who), false, &daily);
    usual_build(season, index_of(who), &daily, &usual, &notes);
    daily_free(&daily);
}

const char week_log[] = "date,athlete,session,kind,minutes,rpe\n"
                        "2026-03-02,Kite,squats,gym,60,5.5\n"
                        "2026-03-03,Kite,drills,skill,45,4\n"
                        "2026-03-04,Kite,squats,gym,50,7\n"
                        "2026-03-05,Lark,squats,gym,40,3\n"
                        "2026-03-06,Kite,pulls,gym,30,8\n";

const char gap_log[] = "date,load\n2026-03-12,180\n2026-03-02,210\n"
                       "2026-03-04,95\n2026-03-02,140.5\n";
