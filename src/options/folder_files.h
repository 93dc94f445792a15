/* folder_files: what a season's folder says of how it is read: headings.csv
 * (file, ours, theirs) and settings.csv (option, value).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_FOLDER_FILES_H
#define OPTIONS_FOLDER_FILES_H

#include "base/status.h"
#include "base/table.h"

/* Adds the folder's headings, if it has any. Fails with file, line and
 * column. */
StatusCode folder_files_headings(const char *folder, TableMaps *maps,
                                 Status *status);

/* A row of settings.csv, and where it stands. */
typedef struct {
    const char *option, *value;
    const char *path;
    size_t line;
} Setting;

/* Gives each of the folder's settings to `take`. Fails likewise. */
StatusCode folder_files_settings(const char *folder,
                                 void (*take)(void *with,
                                              const Setting *setting,
                                              Status *status),
                                 void *with, Status *status);

#endif
