/* mem: memory that is either there or ends the program cleanly.
 *
 * Running out of memory is not something a caller here can mend, so the
 * functions never return NULL: they call the handler that main() installed,
 * which prints one message and exits with 3. Sizes are checked for overflow.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_MEM_H
#define BASE_MEM_H

#include <stddef.h>

/* Called once when memory is out; must not return. Default: abort(). */
typedef void (*MemHandler)(void);

void mem_set_handler(MemHandler handler);

/* Says that memory is out, for libraries that report it themselves. */
_Noreturn void mem_out(void);

/* `count` elements of `size` bytes, zeroed. A count of 0 gives one element, so
 * that the result is never NULL. */
void *mem_new(size_t count, size_t size);

/* Makes room for at least `need` elements; `*room` is updated. Grows by half.
 * The new part is not zeroed. */
void *mem_grow(void *block, size_t *room, size_t need, size_t size);

/* The block with room for `count` elements only. */
void *mem_fit(void *block, size_t count, size_t size);

/* A copy of a string; NULL gives NULL. */
char *mem_copy(const char *text);

/* A copy of the first `length` bytes, with a closing NUL. */
char *mem_copy_part(const char *text, size_t length);

#endif
