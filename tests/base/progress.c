/* progress: what is shown of it, with the clock set back by hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/progress.h"

#include "test.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

/* What `steps` of work shows on standard error; to be freed. */
static char *shown(void (*steps)(void)) {
    const char *path = test_file(0, "error", "");
    FILE *file = fopen(path, "w");
    int kept = dup(STDERR_FILENO);
    char *text;
    CU_ASSERT_FATAL(file && kept >= 0);
    fflush(stderr);
    dup2(fileno(file), STDERR_FILENO);
    steps();
    fflush(stderr);
    dup2(kept, STDERR_FILENO);
    close(kept);
    fclose(file);
    text = test_read(path, NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(text);
    return text;
}

static void steps(bool terminal, double seconds) {
    Progress p = progress_begin("athletes drawn", 8, false);
    p.terminal = terminal;
    p.began -= seconds;
    progress_step(&p, 7);
    if (p.shown > 0)
        p.shown += 1;     /* [s]: however long the machine pauses here */
    progress_step(&p, 8); /* too soon after the one before */
    progress_end(&p);
    progress_end(&p);
}

static void long_work(void) {
    steps(true, 7);
}

static void short_work(void) {
    steps(true, 1);
}

static void piped_work(void) {
    steps(false, 7);
}

static void first_step(void) {
    Progress p = progress_begin("plans made", 3, false);
    p.terminal = true;
    p.began -= 4;
    progress_step(&p, 0);
}

static void lines(void) {
    static const struct {
        void (*steps)(void);
        const char *wanted;
    } rows[] = {
        /* seven of eight in 7 s: another second for the last */
        {long_work, "\r[=====================   ] 7 of 8 athletes drawn, some"
                    " 1 s left\033[K\r\033[K"},
        {short_work, ""},
        {piped_work, ""},
        {first_step, "\r[                        ] 0 of 3 plans made\033[K"},
    };
    test_folder();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char *text = shown(rows[i].steps);
        ASSERT_TEXT(text, rows[i].wanted);
        free(text);
    }
    test_folder_done();
}

/* Standard error is no terminal here, or the work is to be quiet. */
static void quiet(void) {
    CU_ASSERT_FALSE(progress_begin("plans made", 3, true).terminal);
}

static const TestCase cases[] = {
    {"lines", lines}, {"quiet", quiet}, {NULL, NULL}};

const TestSuite suite_base_progress = {"base", cases};
