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

/* Letters of a page's pictures, on paper and on a phone (tests/lettering.py).
 */
static void check_letters(const char *command, const char *name,
                          const char *count) {
    const char *folder = test_folder();
    char page[400], *out, *err;
    const char *words[] = {"/usr/bin/python3", "tests/lettering.py", page,
                           count, NULL};
    int code = test_command(command, folder, &out, &err);
    CU_ASSERT_EQUAL_FATAL(code, 0);
    free(out);
    free(err);
    snprintf(page, sizeof page, "%s/%s", folder, name);
    code = test_run(words, &out, &err);
    if (code != 0)
        printf("%s%s", out, err);
    CU_ASSERT_EQUAL(code, 0);
    free(out);
    free(err);
    test_folder_done();
}

/* The way, the map and the bars of two players; a curve a worksheet. */
static void letters_can_be_read(void) {
    check_letters("report data/demo --athlete wing-07 --athlete pivot-05 "
                  "--quiet --out @",
                  "report.html", "6");
    check_letters("lesson all --sheets 1 --out @", "worksheet.html", "1");
}

static const TestCase cases[] = {
    {"figures_are_the_tables", figures_are_the_tables},
    {"letters_can_be_read", letters_can_be_read},
    {NULL, NULL}};

const TestSuite suite_program_pictures = {"program", cases};
