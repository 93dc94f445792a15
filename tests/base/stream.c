/* stream: what is printed into memory is whole.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/stream.h"
#include "base/text.h"

#include <stdio.h>
#include <string.h>

/* Longer than any buffer of stdio, and behind what stood there. */
static void stream_keeps_all(void) {
    Text text = {0}, wanted = {0};
    FILE *to = stream_open(&text);
    ASSERT_TEXT(text.data, "");
    fclose(to);
    text_add(&text, "before ");
    text_add(&wanted, "before ");
    to = stream_open(&text);
    for (int i = 0; i < 20000; i++) {
        CU_ASSERT(fprintf(to, "%d,", i) > 0);
        text_add(&wanted, "%d,", i);
    }
    CU_ASSERT_EQUAL(fflush(to), 0);
    CU_ASSERT_EQUAL(text.length, 108890 + 7);
    ASSERT_TEXT(text.data, text_of(&wanted));
    CU_ASSERT_EQUAL(fwrite("a\0b", 1, 3, to), 3);
    CU_ASSERT_EQUAL(fclose(to), 0);
    CU_ASSERT_EQUAL(text.length, 108890 + 7 + 3);
    CU_ASSERT_EQUAL(memcmp(text.data + text.length - 3, "a\0b", 4), 0);
    text_free(&text);
    text_free(&wanted);
}

static const TestCase cases[] = {{"stream_keeps_all", stream_keeps_all},
                                 {NULL, NULL}};

const TestSuite suite_base_stream = {"base", cases};
