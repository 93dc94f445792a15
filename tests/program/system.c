/* system: what cannot be read or written: exit 3.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

/* A folder where a file is wanted, and what cannot be written. */
static void system_says_no(void) {
    const char *folder = test_folder();
    char *out, *err;
    char path[400];
    make_good_log();
    snprintf(path, sizeof path, "%s/sessions.csv", folder);
    CU_ASSERT_EQUAL(mkdir(path, 0777), 0);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 3);
    ASSERT_HAS(err, "sessions.csv: is a folder, expected a CSV file");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(rmdir(path), 0);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 3);
    ASSERT_HAS(err, "sessions.csv: cannot be opened: No such file");
    free(out);
    free(err);
    test_file(0, "sessions.csv", good_log);
    test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    CU_ASSERT_EQUAL(
        run("taper @ --out @/sessions.csv/pictures", folder, &out, &err), 3);
    ASSERT_HAS(err, "cannot make this folder: Not a directory");
    free(out);
    free(err);
    CU_ASSERT_EQUAL(run("taper @ --out @/sessions.csv", folder, &out, &err), 3);
    ASSERT_HAS(err, "is not a folder, expected a folder to write into");
    free(out);
    free(err);
    test_folder_done();
}

/* One megabyte in a cell, and NUL bytes. */
static void odd_bytes(void) {
    const char *folder = test_folder();
    size_t length = 1000000;
    char *big = malloc(length + 100), *out, *err;
    size_t at = (size_t)sprintf(big, "date,load,session\n2026-01-05,10,");
    memset(big + at, 'x', length);
    memcpy(big + at + length, "\n2026-01-06,7,a\n", 17);
    test_file(0, "sessions.csv", big);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 1);
    ASSERT_HAS(err, "sessions.csv:2: a cell of more than 64 kB that begins "
                    "'xxxxxxxxxx");
    free(out);
    free(err);
    test_file_bytes(0, "sessions.csv", "date,load\n2026-01-05,1\0\n", 23);
    CU_ASSERT_EQUAL(run("load @", folder, &out, &err), 1);
    ASSERT_HAS(err, "sessions.csv:2: holds a NUL byte");
    free(out);
    free(err);
    free(big);
    test_folder_done();
}

/* Runs the program with a standard output that cannot be written. */
static int run_into(const char *folder, const char *device, char **err) {
    char *words[] = {(char *)(uintptr_t)test_program(), (char *)"load",
                     (char *)(uintptr_t)folder, NULL};
    posix_spawn_file_actions_t actions;
    FILE *errors = tmpfile();
    pid_t child;
    int outcome = 0;
    size_t length;
    posix_spawn_file_actions_init(&actions);
    if (device)
        posix_spawn_file_actions_addopen(&actions, 1, device, O_WRONLY, 0);
    else
        posix_spawn_file_actions_addclose(&actions, 1);
    posix_spawn_file_actions_adddup2(&actions, fileno(errors), 2);
    CU_ASSERT_EQUAL_FATAL(
        posix_spawn(&child, words[0], &actions, NULL, words, environ), 0);
    posix_spawn_file_actions_destroy(&actions);
    while (waitpid(child, &outcome, 0) < 0 && errno == EINTR)
        ;
    rewind(errors);
    *err = calloc(1, 4096);
    length = fread(*err, 1, 4095, errors);
    (*err)[length] = '\0';
    fclose(errors);
    return WIFEXITED(outcome) ? WEXITSTATUS(outcome) : -1;
}

static void output_lost(void) {
    const char *folder = test_folder();
    char *err;
    make_good_log();
    test_file(0, "sessions.csv", good_log);
    CU_ASSERT_EQUAL(run_into(folder, "/dev/full", &err), 3);
    ASSERT_HAS(err, "standard output cannot be written: No space left");
    free(err);
    CU_ASSERT_EQUAL(run_into(folder, NULL, &err), 3);
    ASSERT_HAS(err, "standard output cannot be written: Bad file descriptor");
    free(err);
    test_folder_done();
}

static const TestCase cases[] = {{"system_says_no", system_says_no},
                                 {"odd_bytes", odd_bytes},
                                 {"output_lost", output_lost},
                                 {NULL, NULL}};

const TestSuite suite_program_system = {"program", cases};
