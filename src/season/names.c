/* names: see names.h. Hash: FNV-1a, 64 bit (Fowler, Noll, Vo).
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/names.h"

#include "base/mem.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static uint64_t hash(const char *text, size_t length) {
    uint64_t h = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < length; i++)
        h = (h ^ (unsigned char)text[i]) * UINT64_C(1099511628211);
    return h;
}

/* The slot where the string is or would be. */
static size_t find_slot(const Names *names, const char *text, size_t length) {
    size_t mask = names->slot_count - 1;
    size_t slot = (size_t)hash(text, length) & mask;
    while (names->slots[slot]) {
        const char *item = names->items[names->slots[slot] - 1];
        if (strncmp(item, text, length) == 0 && item[length] == '\0')
            break;
        slot = (slot + 1) & mask;
    }
    return slot;
}

static void make_slots(Names *names) {
    size_t wanted = names->slot_count ? names->slot_count * 2 : 64;
    free(names->slots);
    names->slots = mem_new(wanted, sizeof *names->slots);
    names->slot_count = wanted;
    for (size_t i = 0; i < names->count; i++) {
        const char *item = names->items[i];
        names->slots[find_slot(names, item, strlen(item))] = i + 1;
    }
}

size_t names_find(const Names *names, const char *text, size_t length) {
    size_t slot;
    if (names->slot_count == 0)
        return NAMES_NONE;
    slot = find_slot(names, text, length);
    return names->slots[slot] ? names->slots[slot] - 1 : NAMES_NONE;
}

size_t names_add(Names *names, const char *text, size_t length) {
    size_t found = names_find(names, text, length);
    if (found != NAMES_NONE)
        return found;
    if ((names->count + 1) * 2 > names->slot_count)
        make_slots(names);
    names->items = mem_grow(names->items, &names->room, names->count + 1,
                            sizeof *names->items);
    names->items[names->count] = mem_copy_part(text, length);
    names->slots[find_slot(names, text, length)] = names->count + 1;
    return names->count++;
}

void names_free(Names *names) {
    for (size_t i = 0; i < names->count; i++)
        free(names->items[i]);
    free(names->items);
    free(names->slots);
    *names = (Names){0};
}
