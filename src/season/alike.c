/* alike: see alike.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "season/alike.h"

#include "base/mem.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unicase.h>
#include <unictype.h>
#include <uninorm.h>
#include <unistr.h>

/* Letters, the marks on them, and numbers. */
static bool tells(ucs4_t c) {
    uc_general_category_t wanted = uc_general_category_or(
        uc_general_category_or(UC_LETTER, UC_MARK), UC_NUMBER);
    return uc_is_general_category(c, wanted);
}

void alike_key(Text *key, const char *name) {
    size_t length = 0, before = key->length;
    const uint8_t *bytes = (const uint8_t *)name;
    uint8_t *folded =
        u8_casefold(bytes, u8_strlen(bytes), NULL, UNINORM_NFKC, NULL, &length);
    for (size_t at = 0; folded && at < length;) {
        ucs4_t c;
        int step = u8_mbtouc(&c, folded + at, length - at);
        if (tells(c))
            text_put(key, (const char *)folded + at, (size_t)step);
        at += (size_t)step;
    }
    free(folded);
    if (key->length == before)
        text_put(key, name, strlen(name));
}

bool alike_names(const char *a, const char *b) {
    Text one = {0}, other = {0};
    bool same;
    alike_key(&one, a);
    alike_key(&other, b);
    same = strcmp(text_of(&one), text_of(&other)) == 0 && strcmp(a, b) != 0;
    text_free(&one);
    text_free(&other);
    return same;
}
