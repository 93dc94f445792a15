/* lengths: an answer that is longer than a screen is not read.
 *
 * The limits are the project's own: one athlete 32 lines, a squad of eight 40,
 * its options side by side 50.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const people[] = {"back-03",   "back-09",   "back-14",
                                     "centre-10", "keeper-01", "pivot-05",
                                     "wing-07",   "wing-11"};

static int lines_of(const char *text) {
    int lines = 0;
    for (const char *at = text; (at = strchr(at, '\n')); at++)
        lines++;
    return lines;
}

static void at_most(int limit, const char *command) {
    char *out, *err;
    int lines;
    CU_ASSERT_EQUAL_FATAL(run(command, "data/demo", &out, &err), 0);
    lines = lines_of(out);
    if (lines > limit)
        printf("\n    %s: %d lines, expected at most %d\n", command, lines,
               limit);
    CU_ASSERT(lines <= limit);
    CU_ASSERT(lines > 5);
    free(out);
    free(err);
}

/* Of everybody, on the way to a one-day cup and to a three-day camp. */
static void of_one(void) {
    static const char *const asked[] = {
        "taper @ --athlete %s --event Regional~cup",
        "taper @ --athlete %s --event Selection~weekend",
        "compare @ --athlete %s --event Regional~cup",
        "compare @ --athlete %s --event Selection~weekend",
        "fit @ --athlete %s"};
    char command[120];
    size_t step = getenv("PEAKWARD_QUICK") ? 3 : 1; /* a minor among them */
    for (size_t i = 0; i < sizeof people / sizeof *people; i += step)
        for (size_t k = 0; k < sizeof asked / sizeof *asked; k++) {
            snprintf(command, sizeof command, asked[k], people[i]);
            at_most(32, command);
        }
}

static void of_the_squad(void) {
    at_most(40, "taper @ --event Regional~cup");
    at_most(40, "taper @ --event Selection~weekend");
    at_most(50, "compare @ --event Regional~cup");
    at_most(50, "compare @ --event Selection~weekend");
    at_most(40, "fit @");
}

static int columns_of(const char *line) {
    int columns = 0;
    for (; *line; line++)
        columns += ((unsigned char)*line & 0xC0) != 0x80; /* UTF-8 */
    return columns;
}

/* On a terminal of 80 columns no line of a help text is broken. */
static void of_help(void) {
    static const char *const topics[] = {"",       "files", "league",
                                         "models", "notes", "tapers",
                                         "taper",  "plan",  "experiment"};
    for (size_t i = 0; i < sizeof topics / sizeof *topics; i++) {
        char command[40], *out, *err;
        snprintf(command, sizeof command, "help %s", topics[i]);
        CU_ASSERT_EQUAL_FATAL(run(command, "", &out, &err), 0);
        CU_ASSERT(lines_of(out) > 5);
        for (char *line = strtok(out, "\n"); line; line = strtok(NULL, "\n"))
            if (columns_of(line) > 80) {
                printf("\n    %s: %s\n", command, line);
                CU_FAIL("a line of over 80 columns");
            }
        free(out);
        free(err);
    }
}

static const TestCase cases[] = {{"of_one", of_one},
                                 {"of_the_squad", of_the_squad},
                                 {"of_help", of_help},
                                 {NULL, NULL}};

const TestSuite suite_program_lengths = {"program", cases};
