/* clock: the time now, or the one that SOURCE_DATE_EPOCH sets for builds that
 * can be repeated (reproducible-builds.org/specs/source-date-epoch).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_CLOCK_H
#define BASE_CLOCK_H

#include "base/status.h"

#include <stdbool.h>
#include <time.h>

/* Seconds since 1970. STATUS_USAGE when SOURCE_DATE_EPOCH is set to something
 * else than a whole number of seconds up to the year 9999. */
StatusCode clock_now(time_t *now, Status *status);

/* Does SOURCE_DATE_EPOCH set it? */
bool clock_is_set(void);

#endif
