/* clock: see clock.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/clock.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

static const long long latest = 253402300799; /* [s] end of the year 9999 */

static const char *given(void) {
    const char *text = getenv("SOURCE_DATE_EPOCH");
    return text && *text ? text : NULL;
}

bool clock_is_set(void) {
    return given() != NULL;
}

StatusCode clock_now(time_t *now, Status *status) {
    const char *text = given();
    long long seconds;
    *now = time(NULL);
    if (!text)
        return STATUS_OK;
    errno = 0;
    seconds = strtoll(text, NULL, 10);
    if (text[strspn(text, "0123456789")] || errno != 0 || seconds > latest)
        return status_fail(status, STATUS_USAGE,
                           "SOURCE_DATE_EPOCH: '%s': expected whole seconds "
                           "since 1970",
                           text);
    *now = (time_t)seconds;
    return STATUS_OK;
}
