/* rows: see rows.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char good_log[4000];

void make_good_log(void) {
    size_t at = 0;
    at += (size_t)snprintf(good_log, sizeof good_log,
                           "date,athlete,session,kind,minutes,rpe\n");
    for (int day = 0; day < 42; day++) {
        int date = 5 + day, month = 1;
        if (day % 7 > 4)
            continue;
        if (date > 31) {
            date -= 31;
            month = 2;
        }
        at += (size_t)snprintf(good_log + at, sizeof good_log - at,
                               "2026-%02d-%02d,wing-07,Court,skill,60,5\n",
                               month, date);
    }
}

static void write_files(const Row *row) {
    const char *bar;
    char name[100];
    test_file(0, "sessions.csv", row->sessions ? row->sessions : good_log);
    if (!row->file || strncmp(row->file, "events.csv", 10) != 0)
        test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    if (!row->file)
        return;
    bar = strchr(row->file, '|');
    snprintf(name, sizeof name, "%.*s", (int)(bar - row->file), row->file);
    test_file(2, name, bar + 1);
}

int run(const char *arguments, const char *folder, char **out, char **err) {
    return test_command(arguments, folder, out, err);
}

static void check_stream(const char *arguments, const char *stream,
                         const char *wanted) {
    if (wanted)
        ASSERT_WORDS(stream, wanted);
    if (!wanted && *stream) {
        char message[600];
        snprintf(message, sizeof message,
                 "%.200s printed <%.300s>, wanted "
                 "nothing",
                 arguments, stream);
        CU_assertImplementation(CU_FALSE, __LINE__, message, __FILE__, "",
                                CU_FALSE);
    }
}

static void run_row(const Row *row) {
    const char *folder = test_folder();
    char *out, *err;
    int code;
    write_files(row);
    code = run(row->arguments, folder, &out, &err);
    if (code != row->code) {
        char message[900];
        snprintf(message, sizeof message, "%.200s: exit %d, wanted %d; %.500s",
                 row->arguments, code, row->code, err);
        CU_assertImplementation(CU_FALSE, __LINE__, message, __FILE__, "",
                                CU_FALSE);
    }
    check_stream(row->arguments, err, row->err);
    check_stream(row->arguments, out, row->out);
    free(out);
    free(err);
    test_folder_done();
}

void run_rows(const Row *rows) {
    make_good_log();
    for (; rows->arguments; rows++)
        run_row(rows);
}

void test_same_table(const char *a, const char *b) {
    size_t differ = 0;
    while (*a && *b) {
        char *end_a, *end_b;
        double x = strtod(a, &end_a), y = strtod(b, &end_b);
        if (end_a > a && end_b > b) {
            differ += !test_near(x, y, 1e-9);
            a = end_a;
            b = end_b;
        } else {
            differ += *a != *b;
            a++;
            b++;
        }
    }
    CU_ASSERT_EQUAL(differ, 0);
    CU_ASSERT_EQUAL(*a, *b);
}
