/* reading: one season at a time, read from the test's folder.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TESTS_SEASON_READING_H
#define TESTS_SEASON_READING_H

#include "season/season.h"
#include "season/usual.h"

extern const char *folder;

extern SeasonOptions options;

extern Notes notes;

extern Season *season;

void start(void);

void file(const char *name, const char *content);

void look(void);

void stop(void);

void read_log(const char *content);

void read_with(const char *name, const char *content);

Date march(int day);

size_t index_of(const char *name);

const Athlete *athlete(const char *name);

/* NAN in `wanted` stands for "not recorded". */
void assert_values(const double *values, size_t count, const double *wanted,
                   size_t wanted_count);

enum { MOST = 64 };

void assert_loads(const char *name, const double *wanted, size_t count);

#define LOADS(name, ...)                                                       \
    assert_loads(name, (const double[]){__VA_ARGS__},                          \
                 sizeof((const double[]){__VA_ARGS__}) / sizeof(double))

/* Fails with the first error printed. */
void assert_no_errors(void);

size_t count_notes(Level level, const char *part);

/* A note as "level file:line: column". */
void assert_place(const Note *note, const char *wanted);

extern const char four_athletes[];

extern Usual usual;

void build_usual(const char *who);

/* Kite: squats 330 and 350, median 340; gym 240, 330, 350; skill 180. Lark:
 * squats and gym 120. */
extern const char week_log[];

/* Days 2 to 12 March, the rows not in order; 5 to 11 March are empty. */
extern const char gap_log[];

#endif
