/* A calendar of two entries with any words in it: lines end with CRLF and have
 * at most 75 octets (RFC 5545, 3.1), none is cut inside a character, and what a
 * reader unfolds and unescapes (3.3.11) is the words, but for control
 * characters and those that are not shown (text.h). The input is name, title,
 * text and id, NUL between them.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/calendar.h"

#include "base/text.h"
#include "fuzz.h"

#include <stdbool.h>
#include <string.h>

/* Every line as it stands, then all of them unfolded. */
static char *unfolded(const char *bytes, size_t length, bool utf8) {
    char *whole = malloc(length + 1);
    size_t to = 0;
    for (size_t at = 0; at < length;) {
        const char *end = memchr(bytes + at, '\r', length - at);
        size_t line;
        HOLDS(end != NULL && (size_t)(end - bytes) + 1 < length);
        HOLDS(end[1] == '\n');
        line = (size_t)(end - bytes) - at;
        HOLDS(line > 0 && line <= 75);
        HOLDS(!memchr(bytes + at, '\n', line));
        HOLDS(!utf8 || utf8_check(bytes + at, line) == line);
        if (bytes[at] == ' ') {
            HOLDS(to > 0);
            to--; /* over the line's end */
            at++;
            line--;
        }
        memcpy(whole + to, bytes + at, line);
        to += line;
        whole[to++] = '\n';
        at += line + 2;
    }
    whole[to] = '\0';
    return whole;
}

/* Does the value of the n-th such property, unescaped, read as the words? */
static void check_value(const char *whole, const char *property, int nth,
                        const char *words) {
    char mark[32];
    const char *at = whole;
    snprintf(mark, sizeof mark, "\n%s:", property);
    for (int i = 0; i <= nth; i++) {
        at = strstr(at, mark);
        HOLDS(at != NULL);
        at += strlen(mark);
    }
    for (; *words; words++) {
        unsigned char c = (unsigned char)*words;
        size_t out = left_out(words);
        words += out > 0 ? out - 1 : 0;
        if (out > 0 || (c < ' ' && c != '\n') || c == 0x7f)
            continue;
        if (*at == '\\') {
            at++;
            HOLDS(*at == 'n' || *at == '\\' || *at == ';' || *at == ',');
            HOLDS(c == (*at == 'n' ? '\n' : (unsigned char)*at));
        } else {
            HOLDS(c != ';' && c != ',' && c != '\n' && (unsigned char)*at == c);
        }
        at++;
    }
    HOLDS(*at == '\n');
}

static size_t times(const char *text, const char *part) {
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, part)) != NULL; at++)
        count++;
    return count;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *words[4], *copy = malloc(size + 5), *bytes = NULL, *whole;
    size_t length = 0;
    bool utf8;
    FILE *to = open_memstream(&bytes, &length);
    CalendarEntry entry;
    memcpy(copy, data, size);
    memset(copy + size, 0, 5);
    words[0] = copy;
    for (int i = 1; i < 4; i++) /* past the end: the last NULs */
        words[i] = words[i - 1] + strlen(words[i - 1]) + 1;
    utf8 = true;
    for (int i = 0; i < 4; i++)
        utf8 =
            utf8 && utf8_check(words[i], strlen(words[i])) == strlen(words[i]);
    entry = (CalendarEntry){.date = (Date)(size % 40000),
                            .minute = (int)(size % 1441) - 1,
                            .minutes = (int)(size % 3000),
                            .days = 1,
                            .title = words[1],
                            .text = words[2],
                            .id = words[3]};
    calendar_begin(to, words[0]);
    calendar_entry(to, &entry);
    entry.minute = -1;
    calendar_entry(to, &entry);
    calendar_end(to);
    fclose(to);
    whole = unfolded(bytes, length, utf8);
    HOLDS(strncmp(whole, "BEGIN:VCALENDAR\n", 16) == 0);
    HOLDS(times(whole, "\nBEGIN:VEVENT\n") == 2);
    HOLDS(times(whole, "\nEND:VEVENT\n") == 2);
    HOLDS(times(whole, "\nEND:VCALENDAR\n") == 1);
    if (utf8)
        check_value(whole, "NAME", 0, words[0]);
    for (int i = 0; i < 2 && utf8; i++) {
        check_value(whole, "SUMMARY", i, words[1]);
        check_value(whole, "UID", i, words[3]);
        if (*words[2])
            check_value(whole, "DESCRIPTION", i, words[2]);
    }
    free(whole);
    free(bytes);
    free(copy);
    return 0;
}
