/* fuzz: what the fuzz targets share.
 *
 * A target is one function, called with any bytes; it must neither crash nor
 * leak, and what it asserts must hold for every input. `make fuzz` runs each
 * under libFuzzer (clang) for a while from the seeds in tests/fuzz/seeds;
 * inputs that once failed are kept in tests/fuzz/found and are run again with
 * all seeds by `make check` (replay.c).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef FUZZ_FUZZ_H
#define FUZZ_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Holds in every build, unlike assert(). */
#define HOLDS(what)                                                            \
    do {                                                                       \
        if (!(what)) {                                                         \
            fprintf(stderr, "%s:%d: %s does not hold\n", __FILE__, __LINE__,   \
                    #what);                                                    \
            abort();                                                           \
        }                                                                      \
    } while (0)

#endif
