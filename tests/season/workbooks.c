/* workbooks: tables of a season as .xlsx files (tests/workbook.py).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include <stdlib.h>

static void workbooks(void) {
    const char *words[] = {"/usr/bin/python3", "tests/workbook.py",
                           test_program(), test_folder(), NULL};
    char *out, *err;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    ASSERT_TEXT(out, "taper True\nfit True\nplan True\nsimulate True\n"
                     "single True\nsheet True\nsessions.xlsx#Other 1 True\n"
                     "merged.xlsx 1 True\nformula.xlsx 1 True\n"
                     "slip.xlsx 1 True\nnone.xlsx 1 True\nold.xlsx 1 True\n"
                     "bomb.xlsx 1 True\nsoon True\n");
    ASSERT_TEXT(err, "");
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"workbooks", workbooks}, {NULL, NULL}};

const TestSuite suite_season_workbooks = {"season", cases};
