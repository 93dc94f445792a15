/* runs: see runs.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
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

int run(const char *arguments, const char *folder, char **out, char **err) {
    return test_command(arguments, folder, out, err);
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
