/* rows: the whole program, run as a user runs it; a row is a run.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_PROGRAM_ROWS_H
#define TESTS_PROGRAM_ROWS_H

/* One run. `@` in the arguments stands for the test's folder. Files are
 * NAME|CONTENT; `sessions` is the content of sessions.csv, NULL: a good log. */
typedef struct {
    const char *arguments;
    const char *sessions;
    const char *file; /* NAME|CONTENT or NULL */
    int code;
    const char *err; /* stands in standard error; NULL: standard error empty */
    const char *out; /* stands in standard output; NULL: output empty */
} Row;

/* 42 days from Monday 2026-01-05, 60 min at 5 on weekdays. */
extern char good_log[4000];

void make_good_log(void);

int run(const char *arguments, const char *folder, char **out, char **err);

void run_rows(const Row *rows);

/* The same cells, numbers to nine digits (a file of draws keeps twelve). */
void test_same_table(const char *a, const char *b);

#endif
