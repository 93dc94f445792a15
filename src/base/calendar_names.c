/* calendar_names: see calendar_names.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/calendar_names.h"

#include "base/calendar_words.h"
#include "base/mem.h"

#include <errno.h>
#include <string.h>
#include <unicase.h>
#include <uninorm.h>

enum { LANGUAGES = sizeof calendar_words / sizeof calendar_words[0] };

static bool same(const char *a, size_t a_length, const char *b,
                 size_t b_length) {
    int order = 1;
    if (u8_casecmp((const uint8_t *)a, a_length, (const uint8_t *)b, b_length,
                   NULL, UNINORM_NFC, &order) != 0 &&
        errno == ENOMEM)
        mem_out();
    return order == 0;
}

/* Number of the name that a word is, from 0; -1: none. */
static int find(const char *names, const char *word, size_t length) {
    int number = 0;
    for (const char *at = names;; number++) {
        do {
            size_t one = strcspn(at, "| ");
            if (same(at, one, word, length))
                return number;
            at += one;
        } while (*at++ == '|');
        if (at[-1] == '\0')
            return -1;
    }
}

/* Names that differ among languages are told with them. */
static bool look_up(const char *word, int *found, Text *why) {
    const char *start, *first = NULL;
    size_t length;
    bool agreed = true;
    start = text_trim(word, &length);
    if (length > 0 && start[length - 1] == '.')
        length--;
    for (size_t i = 0; i < LANGUAGES && length > 0; i++) {
        const CalendarWords *w = &calendar_words[i];
        int number = find(w->weekdays, start, length);
        if (number < 0)
            continue;
        if (first && number != *found && agreed) {
            agreed = false;
            text_add(why,
                     "a name that languages agree on (it is not the same day "
                     "in %s and %s): write it out or in English",
                     first, w->language);
        }
        if (!first) {
            *found = number;
            first = w->language;
        }
        if (i == 0)
            return true;
    }
    return first && agreed;
}

bool calendar_weekday(const char *word, int *weekday, Text *why) {
    if (look_up(word, weekday, why))
        return true;
    if (!why->length)
        text_add(why, "mon, tue, wed, thu, fri, sat, sun, a weekday's name in "
                      "another language, or a date as YYYY-MM-DD");
    return false;
}
