/* text: see text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/text.h"

#include "base/mem.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void text_put(Text *text, const char *bytes, size_t length) {
    text->data = mem_grow(text->data, &text->room, text->length + length + 1,
                          sizeof *text->data);
    memcpy(text->data + text->length, bytes, length);
    text->length += length;
    text->data[text->length] = '\0';
}

void text_add(Text *text, const char *format, ...) {
    va_list list, again;
    int length;
    va_start(list, format);
    va_copy(again, list);
    length = vsnprintf(NULL, 0, format, list);
    va_end(list);
    if (length > 0) {
        text->data =
            mem_grow(text->data, &text->room, text->length + (size_t)length + 1,
                     sizeof *text->data);
        vsnprintf(text->data + text->length, (size_t)length + 1, format, again);
        text->length += (size_t)length;
    }
    va_end(again);
}

const char *text_of(const Text *text) {
    return text->data ? text->data : "";
}

void text_clear(Text *text) {
    text->length = 0;
    if (text->data)
        text->data[0] = '\0';
}

void text_free(Text *text) {
    free(text->data);
    *text = (Text){0};
}

/* Length of the UTF-8 sequence at `s` with `left` bytes, 0 if it is invalid.
 * RFC 3629, table in section 4. */
static size_t sequence(const unsigned char *s, size_t left) {
    unsigned char lowest = 0x80, highest = 0xBF;
    size_t length;
    if (s[0] < 0x80)
        return 1;
    if (s[0] >= 0xC2 && s[0] <= 0xDF)
        length = 2;
    else if (s[0] >= 0xE0 && s[0] <= 0xEF)
        length = 3;
    else if (s[0] >= 0xF0 && s[0] <= 0xF4)
        length = 4;
    else
        return 0;
    if (s[0] == 0xE0)
        lowest = 0xA0;
    if (s[0] == 0xED)
        highest = 0x9F;
    if (s[0] == 0xF0)
        lowest = 0x90;
    if (s[0] == 0xF4)
        highest = 0x8F;
    if (left < length || s[1] < lowest || s[1] > highest)
        return 0;
    for (size_t i = 2; i < length; i++)
        if (s[i] < 0x80 || s[i] > 0xBF)
            return 0;
    return length;
}

size_t utf8_check(const char *bytes, size_t length) {
    const unsigned char *s = (const unsigned char *)bytes;
    size_t at = 0;
    while (at < length) {
        uint64_t eight;
        size_t step;
        while (at + 8 <= length) {
            memcpy(&eight, s + at, 8);
            if (eight & UINT64_C(0x8080808080808080))
                break;
            at += 8;
        }
        if (at >= length)
            break;
        step = sequence(s + at, length - at);
        if (step == 0)
            return at;
        at += step;
    }
    return length;
}

static uint32_t code_point(const unsigned char *s, size_t length) {
    static const unsigned char mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    uint32_t code = s[0] & mask[length];
    for (size_t i = 1; i < length; i++)
        code = code << 6 | (s[i] & 0x3F);
    return code;
}

/* Good enough for aligning tables: combining and joining marks take no column,
 * East Asian wide blocks and emoji take two. */
static size_t columns_of(uint32_t c) {
    if ((c >= 0x300 && c <= 0x36F) || (c >= 0x200B && c <= 0x200F) ||
        (c >= 0x202A && c <= 0x202E) || (c >= 0x2060 && c <= 0x2069) ||
        (c >= 0xFE00 && c <= 0xFE0F) || c == 0xFEFF)
        return 0;
    if ((c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0xA4CF) ||
        (c >= 0xAC00 && c <= 0xD7A3) || (c >= 0xF900 && c <= 0xFAFF) ||
        (c >= 0xFE30 && c <= 0xFE6F) || (c >= 0xFF00 && c <= 0xFF60) ||
        (c >= 0x1F300 && c <= 0x1FAFF) || (c >= 0x20000 && c <= 0x3FFFD))
        return 2;
    return 1;
}

/* Walks over at most `limit` columns; sets the bytes walked. */
static size_t walk(const char *text, size_t limit, size_t *bytes) {
    const unsigned char *s = (const unsigned char *)text;
    size_t left = strlen(text), at = 0, width = 0;
    while (at < left) {
        size_t step = sequence(s + at, left - at);
        size_t wide = step ? columns_of(code_point(s + at, step)) : 1;
        if (width + wide > limit)
            break;
        width += wide;
        at += step ? step : 1;
    }
    *bytes = at;
    return width;
}

size_t utf8_width(const char *text) {
    size_t bytes;
    return walk(text, SIZE_MAX, &bytes);
}

size_t utf8_fit(const char *text, size_t columns) {
    size_t bytes;
    walk(text, columns, &bytes);
    return bytes;
}

size_t utf8_unseen(const char *text) {
    const unsigned char *s = (const unsigned char *)text;
    if (s[0] == 0xC2 && s[1] >= 0x80 && s[1] < 0xA0)
        return 2;
    if (s[0] == 0xE2 && s[1] == 0x80 && s[2] >= 0xAA && s[2] <= 0xAE)
        return 3;
    if (s[0] == 0xE2 && s[1] == 0x81 && s[2] >= 0xA6 && s[2] <= 0xA9)
        return 3;
    return s[0] == 0xEF && s[1] == 0xBF && s[2] >= 0xBE ? 3 : 0;
}

void text_shorten(Text *text, const char *whole, size_t columns) {
    size_t wide = utf8_width(whole);
    size_t head = columns < 5 ? columns : (columns - 1) / 2;
    if (wide <= columns) {
        text_add(text, "%s", whole);
        return;
    }
    text_put(text, whole, utf8_fit(whole, head));
    if (columns >= 5)
        text_add(text, "..%s",
                 whole + utf8_fit(whole, wide - (columns - 2 - head)));
}

static int lower(int c) {
    return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c;
}

bool text_same(const char *a, const char *b) {
    for (; *a == *b || lower(*a) == lower(*b); a++, b++)
        if (*a == '\0')
            return true;
    return false;
}

/* Bytes of the blank that `s` starts (or, for `back`, ends) with. */
static size_t blank(const char *s, size_t left) {
    if (left >= 1 && (*s == ' ' || *s == '\t' || *s == '\n' || *s == '\r'))
        return 1;
    if (left >= 2 && memcmp(s, "\xC2\xA0", 2) == 0)
        return 2;
    if (left >= 3 && memcmp(s, "\xE2\x80\xAF", 3) == 0)
        return 3;
    return 0;
}

const char *text_trim(const char *text, size_t *length) {
    size_t left = strlen(text), step;
    if (left > 0 && text_plain(text[0]) && text_plain(text[left - 1])) {
        *length = left; /* as most cells are */
        return text;
    }
    while ((step = blank(text, left)) > 0) {
        text += step;
        left -= step;
    }
    for (;;) {
        if (left >= 1 && blank(text + left - 1, 1))
            left -= 1;
        else if (left >= 2 && blank(text + left - 2, 2) == 2)
            left -= 2;
        else if (left >= 3 && blank(text + left - 3, 3) == 3)
            left -= 3;
        else
            break;
    }
    *length = left;
    return text;
}

/* Bytes of the first character; sets whether it does something to a terminal
 * that shows it: a control character, also of Latin-1, or a byte that is not
 * UTF-8. */
static size_t character(const char *text, size_t left, bool *control) {
    const unsigned char *s = (const unsigned char *)text;
    size_t step = sequence(s, left);
    *control = step == 0 || *s < 0x20 || *s == 0x7F ||
               (step == 2 && s[0] == 0xC2 && s[1] < 0xA0);
    return *control ? 1 : step;
}

const char *text_excerpt(char buffer[TEXT_EXCERPT], const char *text) {
    size_t left = strlen(text), at = 0, out = 0, shown = 0;
    buffer[out++] = '\'';
    while (at < left && shown < 40 && out < TEXT_EXCERPT - 16) {
        bool control;
        size_t step = character(text + at, left - at, &control);
        bool hidden = control || utf8_unseen(text + at);
        for (size_t i = 0; i < step; i++)
            if (hidden)
                out += (size_t)snprintf(buffer + out, 5, "\\x%02X",
                                        (unsigned char)text[at + i]);
            else
                buffer[out++] = text[at + i];
        at += step;
        shown++;
    }
    if (at < left) {
        memcpy(buffer + out, "...", 3);
        out += 3;
    }
    buffer[out++] = '\'';
    buffer[out] = '\0';
    return buffer;
}

/* Bytes of plain ASCII at the beginning. */
static size_t plain_span(const char *text) {
    size_t length = 0;
    while (text[length] == ' ' || text_plain(text[length]))
        length++;
    return length;
}

/* For people, who see one line, or for programs. */
static void show(Text *to, const char *text, bool people) {
    size_t left = strlen(text);
    while (left > 0) {
        bool control = false, blank_here;
        size_t step = plain_span(text);
        if (step == 0)
            step = character(text, left, &control);
        blank_here = control && strchr("\t\n\r", *text);
        if (blank_here && people)
            text_put(to, " ", 1);
        else if (control && !blank_here)
            text_add(to, "\\x%02X", (unsigned char)*text);
        else if (!people || !utf8_unseen(text))
            text_put(to, text, step);
        text += step;
        left -= step;
    }
}

void text_show(Text *to, const char *text) {
    show(to, text, true);
}

void text_show_data(Text *to, const char *text) {
    show(to, text, false);
}

bool text_has_control(const char *text) {
    for (const unsigned char *s = (const unsigned char *)text; *s; s++)
        if ((*s < 0x20 && !strchr("\t\n\r", *s)) || *s == 0x7F ||
            (s[0] == 0xC2 && s[1] < 0xA0) ||
            (s[0] == 0xEF && s[1] == 0xBF && s[2] >= 0xBE))
            return true;
    return false;
}

void text_escape(Text *to, const char *text, const char *(*instead)(char c)) {
    while (*text) {
        size_t unseen = utf8_unseen(text);
        const char *other = unseen ? "" : instead(*text);
        if (other)
            text_put(to, other, strlen(other));
        else
            text_put(to, text, 1);
        text += unseen ? unseen : 1;
    }
}
