/* outfile: files are whole or not there, whatever happens.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/mem.h"
#include "base/outfile.h"

#include <dirent.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static size_t files_in(const char *folder) {
    DIR *directory = opendir(folder);
    struct dirent *entry;
    size_t count = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(directory);
    while ((entry = readdir(directory)))
        count += strcmp(entry->d_name, ".") && strcmp(entry->d_name, "..");
    closedir(directory);
    return count;
}

static void check_content(const char *path, const char *wanted) {
    char *content = test_read(path, NULL);
    ASSERT_TEXT(content, wanted);
    free(content);
}

/* A file named plan.csv in a fresh folder, opened over "old 2.385". */
static OutFile *open_over(const char **path, const char **folder) {
    Status status = {0};
    OutFile *file;
    *folder = test_folder();
    *path = test_file(0, "plan.csv", "old 2.385\n");
    file = outfile_open(*path, &status);
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    return file;
}

static void outfile_replaces(void) {
    const char *path, *folder;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    fputs("new 31.7\n", outfile_stream(file));
    fflush(outfile_stream(file));
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 2); /* in the same folder */
    CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_OK);
    CU_ASSERT_EQUAL(status.code, STATUS_OK);
    check_content(path, "new 31.7\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

static void outfile_gives_up(void) {
    const char *path, *folder;
    OutFile *file = open_over(&path, &folder);
    fputs("new 31.7\n", outfile_stream(file));
    outfile_abandon(file);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    outfile_abandon(NULL);
    test_folder_done();
}

static void outfile_leaves_in_a_hurry(void) {
    const char *path, *folder;
    char other[500];
    Status status = {0};
    OutFile *file = open_over(&path, &folder), *second, *done;
    snprintf(other, sizeof other, "%s/done.csv", folder);
    done = outfile_open(other, &status);
    CU_ASSERT_EQUAL(outfile_commit(done, &status), STATUS_OK);
    snprintf(other, sizeof other, "%s/second.csv", folder);
    second = outfile_open(other, &status);
    CU_ASSERT_PTR_NOT_NULL_FATAL(second);
    CU_ASSERT_EQUAL(files_in(folder), 4);
    outfile_abandon_all();
    CU_ASSERT_EQUAL(files_in(folder), 2); /* plan.csv and done.csv */
    check_content(path, "old 2.385\n");
    outfile_abandon(file);
    outfile_abandon(second);
    CU_ASSERT_EQUAL(files_in(folder), 2);
    test_folder_done();
}

/* Files of the scratch folder stay until it goes, also in a hurry, and no other
 * file goes with it. */
static void outfile_scratch_goes(void) {
    Status status = {0};
    char path[500], *before = mem_copy(getenv("TMPDIR"));
    for (int hurry = 0; hurry < 2; hurry++) {
        const char *path_kept, *folder;
        OutFile *kept = open_over(&path_kept, &folder);
        const char *scratch =
            (setenv("TMPDIR", folder, 1), outfile_scratch(&status));
        CU_ASSERT_PTR_NOT_NULL_FATAL(scratch);
        snprintf(path, sizeof path, "%s/map.svg", scratch);
        CU_ASSERT_EQUAL(outfile_commit(outfile_open(path, &status), &status),
                        STATUS_OK);
        CU_ASSERT_EQUAL(files_in(scratch), 1);
        CU_ASSERT_EQUAL(outfile_commit(kept, &status), STATUS_OK);
        CU_ASSERT_EQUAL(files_in(folder), 2);
        if (hurry)
            outfile_abandon_all();
        else
            outfile_scratch_done();
        CU_ASSERT_EQUAL(files_in(folder), 1);
        outfile_scratch_done();
        if (before)
            setenv("TMPDIR", before, 1);
        else
            unsetenv("TMPDIR");
        test_folder_done();
    }
    free(before);
}

static void outfile_other_program(void) {
    const char *path, *folder, *temporary;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    FILE *stream;
    temporary = outfile_hand_over(file);
    CU_ASSERT_PTR_NULL(outfile_stream(file));
    CU_ASSERT_EQUAL(strncmp(temporary, folder, strlen(folder)), 0);
    stream = fopen(temporary, "wb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    fputs("drawn\n", stream);
    fclose(stream);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_OK);
    check_content(path, "drawn\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

/* The other program took the file away. */
static void outfile_taken_away(void) {
    const char *path, *folder;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    unlink(outfile_hand_over(file));
    CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

static void outfile_no_folder(void) {
    Status status = {0};
    char path[500];
    snprintf(path, sizeof path, "%s/none/plan.csv", test_folder());
    CU_ASSERT_PTR_NULL(outfile_open(path, &status));
    CU_ASSERT_EQUAL(status.code, STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    ASSERT_HAS(status.text, "No such file");
    test_folder_done();
}

static void outfile_over_a_folder(void) {
    Status status = {0};
    char path[500];
    const char *folder = test_folder();
    OutFile *file;
    snprintf(path, sizeof path, "%s/plan", folder);
    CU_ASSERT_EQUAL(mkdir(path, 0777), 0);
    file = outfile_open(path, &status);
    if (file)
        outfile_commit(file, &status);
    CU_ASSERT_EQUAL(status.code, STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    CU_ASSERT_EQUAL(files_in(folder), 1);
    CU_ASSERT_EQUAL(files_in(path), 0);
    test_folder_done();
}

/* Writes `length` bytes where no file may grow beyond `limit`, which fails
 * like a full disk. `freed`: there is room again before the file is closed. */
static void check_full(size_t length, rlim_t limit, bool freed) {
    const char *path, *folder;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    struct rlimit before, small;
    struct sigaction ignore = {.sa_handler = SIG_IGN}, usual;
    CU_ASSERT_EQUAL_FATAL(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = (struct rlimit){limit, before.rlim_max};
    sigaction(SIGXFSZ, &ignore, &usual);
    CU_ASSERT_EQUAL_FATAL(setrlimit(RLIMIT_FSIZE, &small), 0);
    for (size_t i = 0; i < length; i++)
        putc('x', outfile_stream(file));
    if (freed)
        setrlimit(RLIMIT_FSIZE, &before);
    outfile_commit(file, &status);
    setrlimit(RLIMIT_FSIZE, &before);
    sigaction(SIGXFSZ, &usual, NULL);
    CU_ASSERT_EQUAL(status.code, STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

static void outfile_full_disk(void) {
    check_full(300000, 100000, false); /* while writing */
    check_full(300000, 100000, true);
    check_full(700, 500, false); /* only when the last buffer is written */
}

static void outfile_mode(void) {
    static const mode_t masks[] = {0, 022, 027, 077};
    mode_t usual = umask(0);
    for (size_t i = 0; i < COUNT(masks); i++) {
        Status status = {0};
        struct stat about = {0};
        char path[500];
        OutFile *file;
        umask(022);
        snprintf(path, sizeof path, "%s/plan.csv", test_folder());
        umask(masks[i]);
        file = outfile_open(path, &status);
        CU_ASSERT_PTR_NOT_NULL_FATAL(file);
        CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_OK);
        CU_ASSERT_EQUAL(stat(path, &about), 0);
        CU_ASSERT_EQUAL(about.st_mode & 07777, 0666 & ~masks[i]);
        CU_ASSERT_EQUAL(umask(usual), masks[i]); /* left as it was */
        test_folder_done();
    }
    umask(usual);
}

static void make_folder_nested(void) {
    static const char *const tails[] = {"/a/b/c", "/a/b/c", "/d/", "/e//f", ""};
    const char *folder = test_folder();
    for (size_t i = 0; i < COUNT(tails); i++) {
        Status status = {0};
        char path[500];
        snprintf(path, sizeof path, "%s%s", folder, tails[i]);
        CU_ASSERT_EQUAL(outfile_make_folder(path, &status), STATUS_OK);
        check_row(is_folder(path), status.text, path);
    }
    CU_ASSERT_EQUAL(files_in(folder), 3); /* a, d and e */
    test_folder_done();
}

static void make_folder_over_a_file(void) {
    static const char *const tails[] = {"", "/", "/sub", "/sub/sub"};
    const char *file;
    test_folder();
    file = test_file(0, "plan", "2.385\n");
    for (size_t i = 0; i < COUNT(tails); i++) {
        Status status = {0};
        char path[700];
        snprintf(path, sizeof path, "%s%s", file, tails[i]);
        CU_ASSERT_EQUAL(outfile_make_folder(path, &status), STATUS_SYSTEM);
        ASSERT_HAS(status.text, file);
    }
    check_content(file, "2.385\n");
    test_folder_done();
}

static void make_folder_without_name(void) {
    Status status = {0};
    CU_ASSERT_EQUAL(outfile_make_folder("", &status), STATUS_SYSTEM);
    status = (Status){0};
    CU_ASSERT_EQUAL(outfile_make_folder("/", &status), STATUS_OK);
    CU_ASSERT_EQUAL(outfile_make_folder(".", &status), STATUS_OK);
}

static const TestCase cases[] = {
    {"outfile_replaces", outfile_replaces},
    {"outfile_gives_up", outfile_gives_up},
    {"outfile_leaves_in_a_hurry", outfile_leaves_in_a_hurry},
    {"outfile_scratch_goes", outfile_scratch_goes},
    {"outfile_other_program", outfile_other_program},
    {"outfile_taken_away", outfile_taken_away},
    {"outfile_no_folder", outfile_no_folder},
    {"outfile_over_a_folder", outfile_over_a_folder},
    {"outfile_full_disk", outfile_full_disk},
    {"outfile_mode", outfile_mode},
    {"make_folder_nested", make_folder_nested},
    {"make_folder_over_a_file", make_folder_over_a_file},
    {"make_folder_without_name", make_folder_without_name},
    {NULL, NULL}};

const TestSuite suite_base_outfile = {"base", cases};
