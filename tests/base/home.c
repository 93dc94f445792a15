/* home: where the files beside the program are found.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/home.h"
#include "base/mem.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
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

/* A file longer than what is read at once, and one that is missing. */
static void home_file(void) {
    const char *folder = test_folder();
    char *kept = mem_copy(getenv("PEAKWARD_HOME"));
    Text path = {0}, text = {0};
    Status status = {0};
    FILE *file;
    text_add(&path, "%s/long", folder);
    file = fopen(text_of(&path), "w");
    for (int i = 0; i < 3000; i++)
        fprintf(file, "%04d\n", i);
    fclose(file);
    setenv("PEAKWARD_HOME", folder, 1);
    CU_ASSERT(home_read(".", "long", &text, &status) == STATUS_OK);
    CU_ASSERT(text.length == 15000);
    ASSERT_TEXT(text_of(&text) + 14990, "2998\n2999\n");
    CU_ASSERT(home_read(".", "none", &text, &status) == STATUS_SYSTEM);
    check_row(strstr(status.text, "/none: ") != NULL, "names the file",
              status.text);
    if (kept)
        setenv("PEAKWARD_HOME", kept, 1);
    else
        unsetenv("PEAKWARD_HOME");
    free(kept);
    text_free(&path);
    text_free(&text);
    test_folder_done();
}

static const TestCase cases[] = {
    {"home_folders", home_folders}, {"home_file", home_file}, {NULL, NULL}};

const TestSuite suite_base_home = {"base", cases};
