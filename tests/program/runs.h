/* runs: the whole program, run as a user runs it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_PROGRAM_RUNS_H
#define TESTS_PROGRAM_RUNS_H

/* 42 days from Monday 2026-01-05, 60 min at 5 on weekdays. */
extern char good_log[4000];

void make_good_log(void);

int run(const char *arguments, const char *folder, char **out, char **err);

/* The same cells, numbers to nine digits (a file of draws keeps twelve). */
void test_same_table(const char *a, const char *b);

#endif
