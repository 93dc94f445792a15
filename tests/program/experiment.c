/* experiment: the command: its table against R and against `simulate`, and the
 * same bytes however the runs are shared out.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Word `nth` of the line of `text` that begins with `name`, as a number. */
static double number_of(const char *text, const char *name, int nth) {
    const char *at = strstr(text, name);
    for (int i = 0; at && i < nth; i++) {
        at = strchr(at, ' ');
        at = at ? at + strspn(at, " ") : NULL;
    }
    return at ? strtod(at, NULL) : NAN;
}

static void output_of(const char *command, char *text, size_t room) {
    FILE *from = popen(command, "r");
    size_t length = fread(text, 1, room - 1, from);
    text[length] = '\0';
    CU_ASSERT_EQUAL(pclose(from), 0);
}

/* The table for people against the example analysis of the table for
 * statistics, by R. */
static void analysed_by_r(void) {
    static const char *const tapers[] = {"3d-100", "14d-50", "recommended"};
    char ours[8192], theirs[8192];
    output_of("\"$PEAKWARD\" experiment", ours, sizeof ours);
    output_of("\"$PEAKWARD\" experiment --csv | "
              "Rscript data/experiment/analyse.R",
              theirs, sizeof theirs);
    for (int i = 0; i < 3; i++) {
        const char *t = tapers[i];
        double half = number_of(theirs, t, 4); /* ours: two digits of it */
        CU_ASSERT_DOUBLE_EQUAL(number_of(ours, t, 1), number_of(theirs, t, 2),
                               half / 18);
        CU_ASSERT_DOUBLE_EQUAL(number_of(ours, t, 2), half, half / 18);
        CU_ASSERT_DOUBLE_EQUAL(number_of(ours, t, 9), number_of(theirs, t, 6),
                               1e-6);
        CU_ASSERT_DOUBLE_EQUAL(number_of(ours, t, 4), number_of(theirs, t, 11),
                               1e-6);
        double size = number_of(theirs, t, 9); /* ours: two digits from 1000 */
        CU_ASSERT_DOUBLE_EQUAL(number_of(ours, t, 11), size,
                               size < 1000 ? 1e-6 : .05 * size);
    }
}

/* Rows by one thread, by five, and by three parts put together: the same bytes.
 * Returns how many lines. */
static long lines_of(const char *what) {
    char text[128], command[2048];
    snprintf(command, sizeof command,
             "d=$(mktemp -d) && e='experiment --csv %s' && "
             "\"$PEAKWARD\" $e --threads 1 >\"$d\"/one && "
             "\"$PEAKWARD\" $e --threads 5 >\"$d\"/five && "
             "\"$PEAKWARD\" $e --part 1/3 >\"$d\"/parts && "
             "\"$PEAKWARD\" $e --part 2/3 --no-header >>\"$d\"/parts && "
             "\"$PEAKWARD\" $e --part 3/3 --no-header >>\"$d\"/parts && "
             "cmp \"$d\"/one \"$d\"/five && cmp \"$d\"/one \"$d\"/parts && "
             "wc -l <\"$d\"/one; code=$?; rm -r \"$d\"; exit $code",
             what);
    output_of(command, text, sizeof text);
    return strtol(text, NULL, 10);
}

static void same_bytes(void) {
    CU_ASSERT_EQUAL(lines_of("--athletes 150"), 601);
    /* squads of 3, the last of 2, advised; parts end within a squad */
    CU_ASSERT_EQUAL(lines_of("tests/study/advised.csv --athletes 11"), 133);
}

static void truth_is_simulates(void) {
    char text[512];
    output_of(
        "/usr/bin/python3 tests/program/experiment_simulate.py \"$PEAKWARD\"",
        text, sizeof text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "12 runs"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "9 advised runs"));
}

static const TestCase cases[] = {{"analysed_by_r", analysed_by_r},
                                 {"same_bytes", same_bytes},
                                 {"truth_is_simulates", truth_is_simulates},
                                 {NULL, NULL}};

const TestSuite suite_program_experiment = {"program_experiment", cases};
