/* season: tests.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

static const TestCase cases[] = {{NULL, NULL}};

const TestSuite suite_season = {"season", cases};
