/* files: the readers of a season's files, one each; for season.c only.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_FILES_H
#define SEASON_FILES_H

#include "season/season.h"

/* Each reads one file into the season; trouble goes into `notes`. The file
 * must exist. athletes_read() comes first, sessions_read() second. */
void athletes_read(Season *season, const char *path,
                   const SeasonOptions *options, Notes *notes);
void sessions_read(Season *season, const char *path,
                   const SeasonOptions *options, Notes *notes);
void tests_read(Season *season, const char *path, const SeasonOptions *options,
                Notes *notes);
void events_read(Season *season, const char *path, const SeasonOptions *options,
                 Notes *notes);
void week_read(Season *season, const char *path, const SeasonOptions *options,
               Notes *notes);
void exercises_read(Season *season, const char *path,
                    const SeasonOptions *options, Notes *notes);

/* Chooses the load method and computes the loads. */
void loads_choose(Season *season, const SeasonOptions *options, Notes *notes);
/* Gives sessions without a load the athlete's median for their kind; the
 * sessions must be in order. */
void loads_fill(Season *season, Notes *notes);

/* Index of an athlete, added if new. */
size_t season_add_athlete(Season *season, const char *name, size_t length);

/* Reads an athlete cell; blank gives `*athlete` = NAMES_NONE. A name that has
 * no sessions is fine, and added. */
bool read_athlete(Season *season, Reader *reader, int column, size_t *athlete);

#endif
