/* option_table: every option once, with its value, its help, the commands that
 * take it and how its value is read into a request.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_OPTION_TABLE_H
#define OPTIONS_OPTION_TABLE_H

#include "options/option_values.h"

/* All of them, in the order of the help; a row without a name ends them. */
const OptionRule *option_table(void);

/* The option of that name (so many letters) which one of the commands takes;
 * NULL: there is none. */
const OptionRule *option_table_find(int commands, const char *name,
                                    size_t length);

/* Is it said again to say more? Of some together.h judges it. */
bool option_table_repeats(const char *name);

#endif
