/* lesson: what the command takes and refuses.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

static void lesson(void) {
    static const Row rows[] = {
        {"lesson", NULL, NULL, 2, "lesson: no name given, expected one", NULL},
        {"lesson nonsense", NULL, NULL, 2,
         "lesson: 'nonsense', expected a name that", NULL},
        {"lesson steady deload", NULL, NULL, 2,
         "'deload' is one word too many; expected one lesson", NULL},
        {"lesson steady --model nobody", NULL, NULL, 1,
         "--model: 'nobody', expected a model file or one of the names", NULL},
        {"lesson all --sheets 0", NULL, NULL, 2,
         "--sheets: '0', expected a whole number from 1 to 200", NULL},
        {"lesson all --sheets 3 --out @/out", NULL, NULL, 0, NULL,
         "/out/answers.html"},
        {"lesson steady --sheets 3", NULL, NULL, 2,
         "--sheets: worksheets go with 'lesson all --out DIR'", NULL},
        {"lesson --list", NULL, NULL, 0, NULL, "optimiser"},
        {"lesson --play", NULL, NULL, 2,
         "lesson --play: standard input is no terminal, expected one to read "
         "keys from and draw on",
         NULL},
        {"lesson steady --play", NULL, NULL, 2,
         "--play: stands alone or with --model; give no lesson, --out or",
         NULL},
        {"lesson optimiser", NULL, NULL, 0, NULL, "variable-dose twin (tau3"},
        {"lesson optimiser --model triathlete-swim", NULL, NULL, 0, NULL,
         "no fatigue to shed"},
        {"lesson bundle --model triathlete-swim", NULL, NULL, 0, NULL,
         "this kind is too"},
        {"lesson approach --format text --out @/out", NULL, NULL, 0, NULL,
         "/out/lesson-approach.gif"},
        /* classic values: Morton et al. 1990, t_n 15.6 d, t_g 40.3 d */
        {"lesson influence --model classic", NULL, NULL, 0, NULL,
         "training 40 days before (t_g)"},
        {"lesson all --model triathlete-swim", NULL, NULL, 0, NULL,
         "has no fatigue, so there is no"},
        {"lesson all --model calvert", NULL, NULL, 0, NULL, "(t_n) lowers"},
        {"lesson all --model busso-2003", NULL, NULL, 0, NULL,
         "The lines bend"},
        {"lesson tapers --out @/out --format png", NULL, NULL, 0, NULL,
         "/out/lesson-tapers.png"},
        {"lesson all --out @/out", NULL, NULL, 0, NULL, "/out/lecture.html"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static const TestCase cases[] = {{"lesson", lesson}, {NULL, NULL}};

const TestSuite suite_program_lesson = {"program", cases};
