/* sheets: answers as workbooks, opened by another program (tests/sheets.py).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include <stdlib.h>

static void workbooks(void) {
    const char *words[] = {"/usr/bin/python3", "tests/sheets.py",
                           test_program(), test_folder(), NULL};
    char *out, *err;
    CU_ASSERT_EQUAL(test_run(words, &out, &err), 0);
    ASSERT_TEXT(
        out, "load True\nload --weekly True\nload --ahead True\ncompare True\n"
             "plan True\ntaper --max-length 3 True\n"
             "squad ('Squad', 12) ('Squad', 24) ('Squad', 48)\n"
             "session ['date', 'weekday', 'session', 'athlete'] True\n"
             "report True\n"
             "names ['_quoted_', '07', '1.5', '=1+1', '@SUM(A1)', 'sheet', "
             "'a name that is longer tha', 'a name that is longer tha~2', "
             "'https___example.org', 'Ä_B__C___', 'ä_b__c___~2', "
             "'🏐🏐🏐🏐🏐🏐🏐🏐🏐🏐🏐🏐']\n"
             "formulas 0\ndate True {(1980, 1, 1, 0, 0, 0)}\nagain True\n"
             "full {True}\ncommas True True\nread again True\n");
    ASSERT_TEXT(err, "");
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"workbooks", workbooks}, {NULL, NULL}};

const TestSuite suite_program_sheets = {"program", cases};
