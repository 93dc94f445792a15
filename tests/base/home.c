/* home: where the files beside the program are found.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/home.h"
#include "base/mem.h"
#include "base/text.h"

#include <stdlib.h>
#include <unistd.h>

/* Also without the variable the files beside the build are found. */
static void home_folders(void) {
    const char *kept = getenv("PEAKWARD_HOME");
    char *usual = mem_copy(kept), *path;
    setenv("PEAKWARD_HOME", "/odd place", 1);
    path = home_folder("models");
    ASSERT_TEXT(path, "/odd place/models");
    free(path);
    for (int empty = 0; empty < 2; empty++) {
        Text file = {0};
        if (empty)
            setenv("PEAKWARD_HOME", "", 1);
        else
            unsetenv("PEAKWARD_HOME");
        path = home_folder("models");
        text_add(&file, "%s/literature.csv", path);
        check_row(access(text_of(&file), R_OK) == 0, "found", text_of(&file));
        free(path);
        text_free(&file);
        path = home_folder("plots");
        check_row(is_folder(path), "found", path);
        free(path);
    }
    if (usual)
        setenv("PEAKWARD_HOME", usual, 1);
    else
        unsetenv("PEAKWARD_HOME");
    free(usual);
}

static const TestCase cases[] = {{"home_folders", home_folders}, {NULL, NULL}};

const TestSuite suite_base_home = {"base", cases};
