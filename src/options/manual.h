/* manual: manual pages (man(7) roff) and bash's completion, made from the
 * tables of commands and options, like the help.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_MANUAL_H
#define OPTIONS_MANUAL_H

#include "base/status.h"

#include <stdio.h>

/* One call of a command. */
struct Call;

typedef struct {
    const char *name;
    int bit; /* for the option table */
    StatusCode (*run)(const struct Call *, Status *);
    const char *answers; /* one line */
    const char *more;
} Command;

/* The page of the program, or of one of its commands. The table ends with a
 * NULL name. */
void manual_program(const Command *table, const char *version, FILE *to);
void manual_command(const Command *command, const char *version, FILE *to);

/* The commands' names, one a line. */
void manual_names(const Command *table, FILE *to);

/* The topics of help, one a line: name and section of the manual. */
void manual_topics(FILE *to);

/* What stands behind a command's name: "[SEASON] ", "" when nothing does. */
const char *manual_operand(const Command *command);

/* A completion for bash: commands, options, and the values of those that take
 * one of a few words; models by name. */
void manual_completion(const Command *table, FILE *to);

#endif
