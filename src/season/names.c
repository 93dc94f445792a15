/* names: see names.h. Hash: FNV-1a, 64 bit (Fowler, Noll, Vo), of eight bytes
 * at a time.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/names.h"

#include "base/mem.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static uint64_t stir(uint64_t h, uint64_t bytes) {
    h = (h ^ bytes) * UINT64_C(1099511628211);
    return h ^ h >> 32;
}

static uint64_t hash(const char *text, size_t length) {
    uint64_t h = UINT64_C(14695981039346656037), bytes;
    for (; length >= sizeof bytes; length -= sizeof bytes) {
        memcpy(&bytes, text, sizeof bytes);
        h = stir(h, bytes);
        text += sizeof bytes;
    }
    for (bytes = length; length > 0; length--)
        bytes = bytes << 8 | (unsigned char)*text++;
    return stir(h, bytes);
}

/* The slot where the string is or would be. */
static NameSlot *find_slot(const Names *names, const char *text,
                           size_t length) {
    size_t mask = names->slot_count - 1;
    size_t at = (size_t)hash(text, length) & mask;
    for (;; at = (at + 1) & mask) {
        NameSlot *slot = &names->slots[at];
        if (slot->number == 0 ||
            (slot->length == length &&
             memcmp(names->items[slot->number - 1], text, length) == 0))
            return slot;
    }
}

static void make_slots(Names *names) {
    size_t wanted = names->slot_count ? names->slot_count * 2 : 64;
    free(names->slots);
    names->slots = mem_new(wanted, sizeof *names->slots);
    names->slot_count = wanted;
    for (size_t i = 0; i < names->count; i++) {
        size_t length = strlen(names->items[i]);
        *find_slot(names, names->items[i], length) = (NameSlot){i + 1, length};
    }
}

size_t names_find(const Names *names, const char *text, size_t length) {
    const NameSlot *slot;
    if (names->slot_count == 0)
        return NAMES_NONE;
    slot = find_slot(names, text, length);
    return slot->number ? slot->number - 1 : NAMES_NONE;
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
    *find_slot(names, text, length) = (NameSlot){names->count + 1, length};
    return names->count++;
}

void names_free(Names *names) {
    for (size_t i = 0; i < names->count; i++)
        free(names->items[i]);
    free(names->items);
    free(names->slots);
    *names = (Names){0};
}
