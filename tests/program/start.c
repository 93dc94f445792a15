/* start: a new folder is whole, passes the check, and answers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include "base/date.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A new folder is whole, passes the check, and answers; nothing in it is
 * overwritten. */
static void start_whole(void) {
    const char *folder;
    char *out, *err, *check, last[400];
    folder = test_folder();
    CU_ASSERT_EQUAL(run("start @/new --today 2026-11-25", folder, &out, &err),
                    0);
    CU_ASSERT_STRING_EQUAL(err, "");
    snprintf(last, sizeof last, ", peakward plan %s/new\n", folder);
    CU_ASSERT_FATAL(strlen(out) > strlen(last));
    ASSERT_TEXT(out + strlen(out) - strlen(last), last);
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("check @/new --csv", folder, &check, &err), 0);
    CU_ASSERT(strstr(check, "warning") == NULL &&
              strstr(check, "error") == NULL);
    free(check);
    free(err);
    CU_ASSERT_EQUAL(run("taper @/new --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "Example tournament, Wed 23 Dec 2026 (2 days)");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(
        run("plan @/new --option 14d-50 --quiet --athlete example-wing", folder,
            &out, &err),
        0);
    ASSERT_HAS(out, "Squat: 5 ->");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("start @/new", folder, &out, &err), 1);
    ASSERT_HAS(err, "nothing written, since every file is there");
    free(out);
    free(err);
    test_folder_done();
}

/* Every fourth week of the log is lighter than the others, by days counted back
 * from today (a Wednesday): for each athlete the third last and the one four
 * weeks before it. */
static void start_lighter_weeks(void) {
    const char *folder = test_folder();
    int minutes[2][8] = {{0}}, length, year, month, day, took;
    char path[600], who[40], *out, *err, *log, *at;
    CU_ASSERT_EQUAL(run("start @/new --today 2026-11-25", folder, &out, &err),
                    0);
    free(out);
    free(err);
    snprintf(path, sizeof path, "%s/new/sessions.csv", folder);
    log = test_read(path, NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(log);
    for (at = strchr(log, '\n') + 1;
         sscanf(at, "%d-%d-%d,%39[^,],,%*[^,],%*[^,],%d,%*d%n", &year, &month,
                &day, who, &took, &length) == 5;
         at += length + 1) {
        int back =
            date_of((Civil){2026, 11, 25}) - date_of((Civil){year, month, day});
        CU_ASSERT_FATAL(back >= 0 && back < 56);
        minutes[strcmp(who, "example-back") == 0][back / 7] += took;
    }
    CU_ASSERT_EQUAL(*at, '\0');
    for (int a = 0; a < 2; a++)
        for (int w = 0; w < 8; w++)
            if (w % 4 != 2)
                CU_ASSERT(minutes[a][2] < minutes[a][w] &&
                          minutes[a][6] < minutes[a][w]);
    free(log);
    test_folder_done();
}

/* A time of builds that is no time is refused before anything is written; a
 * link that leads nowhere is not written through. */
static void start_clock(void) {
    static const char *const bad[] = {"soon", "-5", "1e9", " 7",
                                      "99999999999999999999"};
    const char *folder = test_folder();
    char path[600], *out, *err;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct stat found;
        setenv("SOURCE_DATE_EPOCH", bad[i], 1);
        CU_ASSERT_EQUAL(run("start @/new", folder, &out, &err), 2);
        ASSERT_HAS(err, "SOURCE_DATE_EPOCH: '");
        ASSERT_HAS(err, "expected whole seconds since 1970");
        ASSERT_HAS(err, bad[i]);
        snprintf(path, sizeof path, "%s/new", folder);
        CU_ASSERT_EQUAL(stat(path, &found), -1);
        free(out);
        free(err);
        CU_ASSERT_EQUAL(
            run("plan data/demo --quiet --out @/new", folder, &out, &err), 2);
        CU_ASSERT_EQUAL(stat(path, &found), -1);
        free(out);
        free(err);
    }
    setenv("SOURCE_DATE_EPOCH", "1767225600", 1); /* 2026-01-01 */
    snprintf(path, sizeof path, "%s/week.csv", folder);
    CU_ASSERT_EQUAL_FATAL(symlink("/nowhere/week.csv", path), 0);
    CU_ASSERT_EQUAL(run("start @", folder, &out, &err), 0);
    ASSERT_HAS(err, "week.csv: warning: is there already");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("check @", folder, &out, &err), 3);
    ASSERT_HAS(out, "week.csv");
    unsetenv("SOURCE_DATE_EPOCH");
    free(out);
    free(err);
    test_folder_done();
}

/* 100, 105, 110 % and a lighter week, then one rise higher: 105, 110.25 (110)
 * and the two that are left; the event comes on the second Saturday after the
 * blocks. 26 Nov 2026 is a Thursday. */
static void start_blocks(void) {
    const char *folder = test_folder();
    char path[600], *out, *err, *blocks;
    CU_ASSERT_EQUAL(
        run("start @/new --blocks 3:1 --weeks 10 --rise 5 --today 2026-11-26",
            folder, &out, &err),
        0);
    ASSERT_HAS(out, "/new/blocks.csv");
    free(out);
    free(err);
    snprintf(path, sizeof path, "%s/new/blocks.csv", folder);
    blocks = test_read(path, NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(blocks);
    CU_ASSERT_STRING_EQUAL(blocks, "start,weeks,block,volume,rise,athlete\n"
                                   "2026-11-30,3,build,100,5,\n"
                                   "2026-12-21,1,deload,60,,\n"
                                   "2026-12-28,3,build,105,5,\n"
                                   "2027-01-18,1,deload,60,,\n"
                                   "2027-01-25,2,build,110,5,\n");
    free(blocks);
    CU_ASSERT_EQUAL(run("check @/new --csv", folder, &out, &err), 0);
    CU_ASSERT(strstr(out, "warning") == NULL && strstr(out, "error") == NULL);
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("load @/new --ahead --csv", folder, &out, &err), 0);
    ASSERT_HAS(out, "example-back,2026-12-21,0,");
    ASSERT_HAS(out, ",deload,,\n");
    ASSERT_HAS(out, ",,Example tournament,\n");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @/new --quiet", folder, &out, &err), 0);
    ASSERT_HAS(out, "Example tournament, Sat 20 Feb 2027 (2 days)");
    free(out);
    free(err);
    test_folder_done();
}

/* From a log without minutes the usual week has the loads, in three figures;
 * from one of minutes and RPE five minutes and half a point are the steps. */
static void start_from_log(void) {
    static const struct {
        const char *head, *cells, *row;
    } rows[] = {{"load", "456.7", "\nMon,Gym,,other,,,457,"},
                {"minutes,rpe", "62,5.2", "\nMon,Gym,,other,60,5,300,"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *folder = test_folder();
        char log[400], *out, *err, *week;
        snprintf(log, sizeof log,
                 "date,athlete,session,%s\n2026-01-05,wing-07,Gym,%s\n"
                 "2026-01-12,wing-07,Gym,%s\n2026-01-19,wing-07,Gym,%s\n",
                 rows[i].head, rows[i].cells, rows[i].cells, rows[i].cells);
        test_file(0, "log.csv", log);
        CU_ASSERT_EQUAL(run("start @/new --from @/log.csv", folder, &out, &err),
                        0);
        free(out);
        free(err);
        snprintf(log, sizeof log, "%s/new/week.csv", folder);
        week = test_read(log, NULL);
        CU_ASSERT_PTR_NOT_NULL_FATAL(week);
        ASSERT_HAS(week, rows[i].row);
        free(week);
        test_folder_done();
    }
}

static const TestCase cases[] = {{"start_whole", start_whole},
                                 {"start_lighter_weeks", start_lighter_weeks},
                                 {"start_clock", start_clock},
                                 {"start_blocks", start_blocks},
                                 {"start_from_log", start_from_log},
                                 {NULL, NULL}};

const TestSuite suite_program_start = {"program", cases};
