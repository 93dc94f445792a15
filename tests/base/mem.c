/* mem: memory grows, and sizes that overflow end the program.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/mem.h"

#include <setjmp.h>
#include <stdint.h>
#include <stdlib.h>

static void mem_grows(void) {
    size_t room = 0, before = 0, grown = 0, bad = 0;
    int *block = NULL;
    for (size_t i = 0; i < 5000; i++) {
        block = mem_grow(block, &room, i + 1, sizeof *block);
        CU_ASSERT_FATAL(room >= i + 1);
        block[i] = (int)(i * 3 + 1);
        grown += room != before;
        before = room;
    }
    for (size_t i = 0; i < 5000; i++)
        bad += block[i] != (int)(i * 3 + 1);
    CU_ASSERT_EQUAL(bad, 0);
    CU_ASSERT(grown < 30); /* by half each time, not one by one */
    CU_ASSERT_PTR_EQUAL(mem_grow(block, &room, 7, sizeof *block), block);
    CU_ASSERT_EQUAL(room, before);
    free(block);
}

static void mem_makes(void) {
    char *none = mem_new(0, 8), *copy = mem_copy("squad");
    char *part = mem_copy_part("squad", 3);
    long *some = mem_new(37, sizeof *some);
    size_t bad = 0;
    CU_ASSERT_PTR_NOT_NULL(none);
    for (size_t i = 0; i < 37; i++)
        bad += some[i] != 0;
    CU_ASSERT_EQUAL(bad, 0);
    ASSERT_TEXT(copy, "squad");
    ASSERT_TEXT(part, "squ");
    CU_ASSERT_PTR_NULL(mem_copy(NULL));
    free(none);
    free(some);
    free(copy);
    free(part);
}

static jmp_buf out;

static int times_out;

static void jump_out(void) {
    times_out++;
    longjmp(out, 1);
}

/* Sizes that overflow end in the handler and not in a small block. */
static void mem_overflows(void) {
    static const struct {
        size_t room, need, size;
    } rows[] = {{0, SIZE_MAX, 1},
                {0, SIZE_MAX / 16, 64},
                {0, SIZE_MAX / 2 + 1, 2},
                /* the product is 0 in size_t */
                {SIZE_MAX / 64 + 1, SIZE_MAX / 64 + 1, 64}};
    static size_t i;
    times_out = 0;
    mem_set_handler(jump_out);
    for (i = 0; i < COUNT(rows); i++) {
        size_t room = rows[i].room;
        if (setjmp(out) == 0)
            free(mem_grow(NULL, &room, rows[i].need, rows[i].size));
    }
    if (setjmp(out) == 0)
        mem_out();
    mem_set_handler(NULL);
    CU_ASSERT_EQUAL(times_out, 5);
}

static const TestCase cases[] = {{"mem_grows", mem_grows},
                                 {"mem_makes", mem_makes},
                                 {"mem_overflows", mem_overflows},
                                 {NULL, NULL}};

const TestSuite suite_base_mem = {"base", cases};
