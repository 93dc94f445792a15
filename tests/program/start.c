/* start: a new folder is whole, passes the check, and answers.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A new folder is whole, passes the check, and answers; nothing in it is
 * overwritten. */
static void start_whole(void) {
    const char *folder;
    char *out, *err, *check;
    folder = test_folder();
    CU_ASSERT_EQUAL(run("start @/new --today 2026-11-25", folder, &out, &err),
                    0);
    CU_ASSERT_STRING_EQUAL(err, "");
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

static const TestCase cases[] = {
    {"start_whole", start_whole}, {"start_clock", start_clock}, {NULL, NULL}};

const TestSuite suite_program_start = {"program", cases};
