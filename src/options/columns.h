/* columns: names of all columns of a season's files, for those that map other
 * people's headings to them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_COLUMNS_H
#define OPTIONS_COLUMNS_H

#include "base/text.h"

/* Is it one, or "ignore"? */
bool columns_known(const char *name);

/* What was expected where another word stands, with the name nearest to it;
 * appended. */
const char *columns_expected(const char *name, Text *text);

#endif
