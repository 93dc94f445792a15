/* files: what is wrong with the files of a season: exit 1, with the place.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include "base/text.h"

#include <stdlib.h>
#include <sys/stat.h>

/* Names that are made safe to the same, and one that looks like what tells them
 * apart: each athlete has files of her own. */
static void file_names(void) {
    const char *folder = test_folder();
    char *out, *err;
    struct stat about;
    static const char *const names[] = {"a_-plan.ics", "a_~2-plan.ics",
                                        "a_-2-plan.ics"};
    test_file(0, "sessions.csv",
              "date,athlete,load\n2026-02-02,a?,300\n2026-02-02,a!,300\n"
              "2026-02-02,a_-2,300\n2026-02-04,a?,300\n2026-02-05,a!,200\n"
              "2026-02-06,a_-2,300\n");
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    test_file(2, "athletes.csv", "athlete\na!\na?\na_-2\n");
    CU_ASSERT_EQUAL(run("plan @ --quiet --out @/out", folder, &out, &err), 0);
    for (int i = 0; i < 3; i++) {
        Text path = {0};
        text_add(&path, "%s/out/%s", folder, names[i]);
        CU_ASSERT_EQUAL(stat(text_of(&path), &about), 0);
        text_free(&path);
    }
    free(out);
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"file_names", file_names}, {NULL, NULL}};

const TestSuite suite_program_files = {"program", cases};
