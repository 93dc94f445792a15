/* files: what the files of this floor need of each other to read a season.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_FILES_H
#define SEASON_FILES_H

#include "season/season.h"

/* Each reads one file into the season; trouble goes into `notes`. The file
 * must exist. read_athletes() comes first, read_sessions() second. */
void read_athletes(Season *season, const char *path,
                   const SeasonOptions *options, Notes *notes);
void read_sessions(Season *season, const char *path,
                   const SeasonOptions *options, Notes *notes);
void read_tests(Season *season, const char *path, const SeasonOptions *options,
                Notes *notes);
void read_events(Season *season, const char *path, const SeasonOptions *options,
                 Notes *notes);
void read_week(Season *season, const char *path, const SeasonOptions *options,
               Notes *notes);
void read_exercises(Season *season, const char *path,
                    const SeasonOptions *options, Notes *notes);
void read_absences(Season *season, const char *path,
                   const SeasonOptions *options, Notes *notes);
/* After the log and the events, which it asks for. */
void read_blocks(Season *season, const char *path, const SeasonOptions *options,
                 Notes *notes);
/* Last: it asks for the athletes and the load method there are. */
void read_plan(Season *season, const char *path, const SeasonOptions *options,
               Notes *notes);
/* The plan's rows by athlete, then by date. */
void read_plan_sort(Season *season);

/* The columns that each may have. */
extern const Column read_absences_columns[];
extern const Column read_athletes_columns[];
extern const Column read_blocks_columns[];
extern const Column read_events_columns[];
extern const Column read_exercises_columns[];
extern const Column read_plan_columns[];
extern const Column read_sessions_columns[];
extern const Column read_tests_columns[];
extern const Column read_week_columns[];

/* Chooses the load method and computes the loads. */
void loads_choose(Season *season, const SeasonOptions *options, Notes *notes);
/* Gives sessions without a load the athlete's median for their kind; the
 * sessions must be in order. */
void loads_fill(Season *season, Notes *notes);

/* Reads a file row by row; false, after noting why, if it has no such
 * columns. */
bool rows_read(Season *season, const char *path, const Column *columns,
               const SeasonOptions *options, Notes *notes,
               void (*row)(Season *season, Reader *reader));
/* Reads an athlete cell; blank gives `*athlete` = NAMES_NONE. A name that has
 * no sessions is fine, and added. */
bool rows_athlete(Season *season, Reader *reader, int column, size_t *athlete);

/* Warns of rows of week.csv that stand twice or do nothing. */
void week_rows_judge(const Season *season, Notes *notes);

/* Athletes of athletes.csv first, in its order, then the others by name. */
void order_athletes(Season *season);
/* Athlete by athlete, in order of time. */
void order_sessions(Season *season);
/* Gives each athlete their part of the sorted sessions. */
void order_hand_out(Season *season);

/* The first day and the last that anybody logged. */
void logged_find_last(Season *season, bool fill);
void logged_trim(Season *season, bool fill, Notes *notes);
/* Refuses a few rows far from all others. */
void logged_find_stray(const Season *season, Notes *notes);
void logged_leave_out_future(Season *season, const SeasonOptions *options,
                             Notes *notes);

#endif
