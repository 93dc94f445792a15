/* events: several events, their sessions and their rules.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Readiness on day `at` from 5 January 2026, without training before, by the
 * classic set of Morton, Fitz-Clarke, Banister 1990 (from memory): 300 on
 * weekdays, 6 March cut to a share, 5000 on 7 March. */
static double classic(int at, double share) {
    double sum = 0;
    for (int day = 0; day < at; day++) {
        double age = at - day;
        double load = day == 61 ? 5000 : day % 7 > 4 ? 0 : 300;
        sum += (day == 60 ? share : 1) * load *
               (exp(-age / 45) - 2 * exp(-age / 15));
    }
    return sum;
}

/* Days until readiness is back after an event, reckoned by hand. */
static void after_event(void) {
    char wanted[80], *out, *err;
    const char *folder = test_folder();
    int back = 1;
    while (classic(61 + back, .5) < classic(61, 1))
        back++;
    CU_ASSERT(back > 2 && back < 14);
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv",
              "event,start,load_per_day\nCup,2026-03-07,5000\n");
    test_file(2, "own.csv",
              "parameter,value\nkind,two-component\np0,0\nk1,1\nk2,2\n"
              "tau1,45\ntau2,15\n");
    CU_ASSERT_EQUAL(run("taper @ --model @/own.csv --before nothing "
                        "--max-length 1 --shapes step --max-cut 50 --quiet",
                        folder, &out, &err),
                    0);
    ASSERT_HAS(out, "1d-50");
    snprintf(wanted, sizeof wanted, "after %d days,", back);
    ASSERT_HAS(out, wanted);
    free(out);
    free(err);
    test_folder_done();
}

/* The second number of the row that begins so: with the taper. */
static double with_taper(const char *text, const char *row, int skipped) {
    const char *at = strstr(text, row);
    double value = NAN;
    CU_ASSERT_PTR_NOT_NULL_FATAL(at);
    at += strlen(row);
    for (int i = 0; i <= skipped; i++) {
        char *end;
        at += strcspn(at, "0123456789-");
        value = strtod(at, &end);
        at = end;
    }
    return value;
}

/* A day of the answer is the worse of its two sessions in the notes. */
static void days_of_a_camp(void) {
    static const char *const days[] = {"Fri 8 May", "Sat 9 May", "Sun 10 May"};
    char *out, *err, row[80];
    CU_ASSERT_EQUAL_FATAL(run("taper @ --event Selection~weekend --athlete "
                              "back-03 --notes",
                              "data/demo", &out, &err),
                          0);
    for (int i = 0; i < 3; i++) {
        double early, late;
        snprintf(row, sizeof row, "\n%s 09:30", days[i]);
        early = with_taper(out, row, 3);
        snprintf(row, sizeof row, "\n%s 15:30", days[i]);
        late = with_taper(out, row, 3);
        snprintf(row, sizeof row, "\n%s  ", days[i]);
        CU_ASSERT(early != late);
        ASSERT_NEAR(with_taper(out, row, 1), fmin(early, late), 1e-9);
    }
    free(out);
    free(err);
}

static const TestCase cases[] = {{"after_event", after_event},
                                 {"days_of_a_camp", days_of_a_camp},
                                 {NULL, NULL}};

const TestSuite suite_program_events = {"program", cases};
