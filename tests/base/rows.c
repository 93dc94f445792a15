/* rows: see rows.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/number.h"

#include <stdint.h>
#include <stdio.h>
#include <sys/stat.h>

const NumberStyle POINT = {false}, COMMA = {true};

double next_random(uint64_t *state) {
    *state =
        *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (double)(*state >> 11) / 9007199254740992.0;
}

void check_row(bool good, const char *what, const char *row) {
    char message[300];
    snprintf(message, sizeof message, "%.70s: <%.200s>", what, row);
    CU_assertImplementation(good, __LINE__, message, __FILE__, "", CU_FALSE);
}

bool is_folder(const char *path) {
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}
