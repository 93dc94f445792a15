/* home: where the program's own files are.
 *
 * PEAKWARD_HOME if set; else beside the program: a build tree has models/ and
 * plots/ above build/, an installed one has ../share/peakward/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_HOME_H
#define BASE_HOME_H

#include "base/status.h"
#include "base/text.h"

/* Path of a folder among the program's files ("models", "plots"). To be freed
 * with free(). The folder may not exist. */
char *home_folder(const char *name);

/* Appends all of a file in such a folder. */
StatusCode home_read(const char *folder, const char *file, Text *to,
                     Status *status);

#endif
