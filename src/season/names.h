/* names: each different string once, with a number of its own.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef SEASON_NAMES_H
#define SEASON_NAMES_H

#include <stddef.h>

/* Where a string is in `items`. */
typedef struct {
    size_t number; /* + 1; 0: free */
    size_t length;
} NameSlot;

typedef struct {
    char **items; /* numbered 0 ... count-1 in order of first appearance */
    size_t count, room;
    NameSlot *slots; /* open-addressing hash table */
    size_t slot_count;
} Names;

#define NAMES_NONE ((size_t)-1)

/* The number of a string, added if it is new. */
size_t names_add(Names *names, const char *text, size_t length);
/* The number of a string, NAMES_NONE if it is not there. */
size_t names_find(const Names *names, const char *text, size_t length);
void names_free(Names *names);

#endif
