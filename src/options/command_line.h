/* command_line: the words after the command, and the settings of the season's
 * folder, read into a request; the help of a command's options.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_COMMAND_LINE_H
#define OPTIONS_COMMAND_LINE_H

#include "options/request.h"

/* Reads the words after the command. Fails with STATUS_USAGE. */
StatusCode command_line_read(int command, int count, char *const *words,
                             Request *request, Status *status);

/* An option, for those who tell of it elsewhere. */
typedef struct {
    const char *name, *value; /* value: NULL if it takes none */
    const char *help;
} CommandOption;

/* Gives each option of the commands (bits) to `take`. */
void command_line_options(int commands,
                          void (*take)(const CommandOption *option, void *into),
                          void *into);

/* Prints the options that a command takes. */
void command_line_help(int command, FILE *to);

#endif
