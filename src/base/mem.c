/* mem: see mem.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static MemHandler handler_of_main;

void mem_set_handler(MemHandler handler) {
    handler_of_main = handler;
}

_Noreturn void mem_out(void) {
    if (handler_of_main)
        handler_of_main();
    abort();
}

void *mem_new(size_t count, size_t size) {
    void *block = calloc(count ? count : 1, size ? size : 1);
    if (!block)
        mem_out();
    return block;
}

void *mem_grow(void *block, size_t *room, size_t need, size_t size) {
    size_t wanted = *room;
    if (need <= wanted && block)
        return block;
    if (wanted < 16)
        wanted = 16;
    while (wanted < need) {
        if (wanted > SIZE_MAX / 2)
            mem_out();
        wanted += wanted / 2;
    }
    if (wanted > SIZE_MAX / size)
        mem_out();
    block = realloc(block, wanted * size);
    if (!block)
        mem_out();
    *room = wanted;
    return block;
}

void *mem_fit(void *block, size_t count, size_t size) {
    void *smaller = realloc(block, (count ? count : 1) * size);
    return smaller ? smaller : block;
}

char *mem_copy_part(const char *text, size_t length) {
    char *copy = mem_new(length + 1, 1);
    memcpy(copy, text, length);
    return copy;
}

char *mem_copy(const char *text) {
    return text ? mem_copy_part(text, strlen(text)) : NULL;
}
