/* replay: runs a fuzz target on files, without a fuzzer. Fails if there is
 * none.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "fuzz.h"

static int run_file(const char *path) {
    static uint8_t data[1 << 20];
    FILE *file = fopen(path, "rb");
    uint8_t *own;
    size_t size;
    if (!file)
        return 1;
    size = fread(data, 1, sizeof data, file);
    fclose(file);
    own = malloc(size ? size : 1); /* so that reading past its end shows */
    if (!own)
        return 1;
    for (size_t i = 0; i < size; i++)
        own[i] = data[i];
    LLVMFuzzerTestOneInput(own, size);
    free(own);
    return 0;
}

int main(int count, char **paths) {
    int failed = 0;
    for (int i = 1; i < count; i++)
        failed += run_file(paths[i]);
    printf("%d inputs\n", count - 1 - failed);
    return failed > 0 || count < 2;
}
