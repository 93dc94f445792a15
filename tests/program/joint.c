/* joint: several events together, by the whole program.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/date.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const Date log_start = 20514; /* Monday 2026-03-02 */

static int run_program(const char *const *more, size_t count, char **out) {
    const char *words[20] = {test_program(), "taper"};
    for (size_t i = 0; i < count; i++)
        words[2 + i] = more[i];
    return test_run(words, out, NULL);
}

/* Two events with names that would do harm if gnuplot or a shell read them. */
static const char *write_season(const char *name) {
    static const char *const kinds[] = {"Gym,gym", "Court,skill"};
    const char *folder = test_folder();
    char text[4000], day[DATE_TEXT];
    size_t at =
        (size_t)snprintf(text, sizeof text, "date,session,kind,minutes,rpe\n");
    for (int i = 0; i < 40; i++)
        at += (size_t)snprintf(text + at, sizeof text - at, "%s,%s,%d,%d\n",
                               date_write(day, log_start + i), kinds[i % 2],
                               40 + 7 * (i % 5), 3 + i % 4);
    test_file(0, "sessions.csv", text);
    snprintf(text, sizeof text,
             "event,start,days,weight,load_per_day,start_time\n"
             "%s,2026-04-25,2,1,610,09:00 15:30\nTrial,2026-05-06,1,3,480,\n",
             name);
    test_file(1, "events.csv", text);
    return folder;
}

static void check_picture(const char *folder, const char *name,
                          const char *has) {
    char path[600], *text;
    size_t length = 0;
    snprintf(path, sizeof path, "%s/out/%s", folder, name);
    text = test_read(path, &length);
    CU_ASSERT_PTR_NOT_NULL(text);
    CU_ASSERT(length > 1000);
    if (text && has)
        ASSERT_HAS(text, has);
    free(text);
}

/* Both pictures in every format, with an event's name that is no script. */
static void joint_pictures(void) {
    static const char *const formats[] = {"svg", "png", "pdf", "text"};
    static const char *const ends[] = {"svg", "png", "pdf", "txt"};
    const char *folder =
        write_season("\"Cup `touch ran` ' ; system(\"\"touch ran\"\")\"");
    char out[500], name[60], *said;
    snprintf(out, sizeof out, "%s/out", folder);
    for (int i = 0; i < 4; i++) {
        const char *joint[] = {folder,     "--joint",  "--out",  out,
                               "--format", formats[i], "--quiet"};
        const char *plain[] = {folder,     "--out",    out,
                               "--format", formats[i], "--quiet"};
        bool words = i == 0 || i == 3;
        CU_ASSERT_EQUAL(run_program(joint, 7, &said), 0);
        free(said);
        CU_ASSERT_EQUAL(run_program(plain, 6, &said), 0);
        free(said);
        snprintf(name, sizeof name, "athlete-peaks.%s", ends[i]);
        check_picture(folder, name, words ? "Trial" : NULL);
        snprintf(name, sizeof name, "athlete-sessions.%s", ends[i]);
        check_picture(folder, name, words ? "Sun 15:30" : NULL);
    }
    snprintf(name, sizeof name, "%s/ran", folder);
    said = test_read(name, NULL);
    CU_ASSERT_PTR_NULL(said);
    free(said);
    test_folder_done();
}

/* The n-th cell (from 0) of the first row that holds `has`. */
static double cell_of(const char *table, const char *has, int n) {
    const char *at = strstr(table, has);
    while (at && at > table && at[-1] != '\n')
        at--;
    for (; at && n > 0; n--) {
        at = strchr(at, ',');
        at = at ? at + 1 : NULL;
    }
    return at ? strtod(at, NULL) : NAN;
}

/* What the first event could gain alone is what the search for it finds, and
 * without any taper both commands say the same of both events. */
static void joint_and_taper(void) {
    const char *folder = write_season("Cup");
    /* steps: no comma within a cell */
    const char *joint[] = {folder,    "--shapes",   "step",  "--joint",
                           "--model", "literature", "--csv", "--quiet"};
    const char *first[] = {folder, "--shapes", "step", "--csv", "--quiet"};
    const char *last[] = {folder,    "--shapes", "step", "--csv",
                          "--quiet", "--event",  "Trial"};
    /* no taper before the first event when the second is asked about */
    const char *plan[] = {test_program(), "plan",       folder,    "--option",
                          "none",         "--hand-out", "--quiet", NULL};
    char *together, *cup, *trial, *said;
    CU_ASSERT_EQUAL(run_program(joint, 8, &together), 0);
    CU_ASSERT_EQUAL(run_program(first, 5, &cup), 0);
    CU_ASSERT_EQUAL(test_run(plan, &said, NULL), 0);
    free(said);
    CU_ASSERT_EQUAL(run_program(last, 7, &trial), 0);
    ASSERT_NEAR(cell_of(together, ",Cup,", 15), cell_of(cup, ",best,", 9),
                1e-9);
    ASSERT_NEAR(cell_of(together, ",Cup,", 11), cell_of(cup, ",none,0,", 6),
                1e-9);
    ASSERT_NEAR(cell_of(together, ",Trial,", 11), cell_of(trial, ",none,0,", 6),
                1e-9);
    free(together);
    free(cup);
    free(trial);
    test_folder_done();
}

/* Runs of blanks and line ends become one blank. */
static void squeeze(char *text) {
    char *to = text;
    for (const char *at = text; *at; at++)
        if (*at != ' ' && *at != '\n')
            *to++ = *at;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
}

/* The table that people read holds the numbers of the rows. */
static void joint_table(void) {
    const char *rows[] = {"data/demo", "--joint", "--athlete",
                          "pivot-05",  "--quiet", "--csv"};
    static const char *const events[] = {",Regional cup,",
                                         ",Selection weekend,"};
    char *csv, *table, line[120];
    CU_ASSERT_EQUAL(run_program(rows, 6, &csv), 0);
    CU_ASSERT_EQUAL(run_program(rows, 5, &table), 0);
    squeeze(table);
    for (int i = 0; i < 2; i++) {
        snprintf(line, sizeof line, " %.2f %.2f %+.2f %.2f to %.2f ",
                 cell_of(csv, events[i], 11), cell_of(csv, events[i], 5),
                 cell_of(csv, events[i], 8), cell_of(csv, events[i], 9),
                 cell_of(csv, events[i], 10));
        CU_ASSERT_PTR_NOT_NULL(strstr(table, line));
    }
    free(csv);
    free(table);
}

static const TestCase cases[] = {{"joint_pictures", joint_pictures},
                                 {"joint_and_taper", joint_and_taper},
                                 {"joint_table", joint_table},
                                 {NULL, NULL}};

const TestSuite suite_program_joint = {"program", cases};
