/* pictures: what is drawn is what the tables say.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include <stdlib.h>

/* Every block of data sent to gnuplot, against the CSV of the same answer
 * (tests/pictures.py). */
static void figures_are_the_tables(void) {
    const char *words[] = {"/usr/bin/python3", "tests/pictures.py",
                           test_program(), NULL};
    char *out, *err;
    int code = test_run(words, &out, &err);
    if (code != 0)
        printf("%s%s", out, err);
    CU_ASSERT_EQUAL(code, 0);
    free(out);
    free(err);
}

static const TestCase cases[] = {
    {"figures_are_the_tables", figures_are_the_tables}, {NULL, NULL}};

const TestSuite suite_program_pictures = {"program", cases};
