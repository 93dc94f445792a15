/* text: UTF-8 is judged by encoding every code point anew.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/text.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Shortest form of a code point, RFC 3629 section 3. */
static size_t encode(uint32_t c, unsigned char out[4]) {
    static const uint32_t first[] = {0x00, 0xC0, 0xE0, 0xF0};
    size_t more = c < 0x80 ? 0 : c < 0x800 ? 1 : c < 0x10000 ? 2 : 3;
    out[0] = (unsigned char)(first[more] | c >> (6 * more));
    for (size_t i = 1; i <= more; i++)
        out[i] = (unsigned char)(0x80 | (c >> (6 * (more - i)) & 0x3F));
    return more + 1;
}

static bool is_scalar(uint32_t c) {
    return c <= 0x10FFFF && (c < 0xD800 || c > 0xDFFF);
}

/* Length of a code point's shortest form at `s`, by decoding in every length
 * and encoding again; 0 if none gives these bytes. */
static size_t step_of(const unsigned char *s, size_t left) {
    static const unsigned char mask[] = {0, 0xFF, 0x1F, 0x0F, 0x07};
    for (size_t n = 1; n <= 4 && n <= left; n++) {
        unsigned char again[4];
        uint32_t c = s[0] & mask[n];
        for (size_t i = 1; i < n; i++)
            c = c << 6 | (s[i] & 0x3Fu);
        if (is_scalar(c) && encode(c, again) == n && memcmp(again, s, n) == 0)
            return n;
    }
    return 0;
}

static bool judged_alike(const unsigned char *s, size_t length) {
    size_t at = 0, step;
    while (at < length && (step = step_of(s + at, length - at)) > 0)
        at += step;
    return utf8_check((const char *)s, length) == at;
}

static void utf8_every_code_point(void) {
    size_t bad = 0, valid = 0;
    for (uint32_t c = 0; c < 0x200000; c++) {
        unsigned char bytes[4];
        size_t length = encode(c, bytes);
        bool good = utf8_check((const char *)bytes, length) == length;
        valid += good;
        bad += good != is_scalar(c);
    }
    CU_ASSERT_EQUAL(bad, 0);
    CU_ASSERT_EQUAL(valid, 0x110000 - 0x800); /* all but the surrogates */
}

/* Every pair of bytes, and triples and quadruples of those that matter. */
static void utf8_every_start(void) {
    static const unsigned char edge[] = {0x00, 0x41, 0x7F, 0x80, 0x8F, 0x90,
                                         0x9F, 0xA0, 0xBF, 0xC0, 0xC2, 0xFF};
    size_t bad = 0;
    for (unsigned a = 0; a < 256; a++)
        for (unsigned b = 0; b < 256; b++) {
            unsigned char s[4] = {(unsigned char)a, (unsigned char)b, 0, 0};
            bad += !judged_alike(s, 2);
            for (size_t i = 0; i < COUNT(edge); i++) {
                s[2] = edge[i];
                s[3] = edge[(i + a + b) % COUNT(edge)];
                bad += !judged_alike(s, 3);
                bad += !judged_alike(s, 4);
            }
        }
    CU_ASSERT_EQUAL(bad, 0);
}

static void utf8_known(void) {
    static const char *const good[] = {
        "",
        "A\xE2\x89\xA2\xCE\x91.",                /* A, not identical, Alpha */
        "\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4",  /* Hangul */
        "\xE6\x97\xA5\xE6\x9C\xAC\xE8\xAA\x9E",  /* Han */
        "\xEF\xBB\xBF\xF0\xA3\x8E\xB4 and more", /* with a byte-order mark */
        "\xF4\x8F\xBF\xBF"};                     /* U+10FFFF */
    static const char *const bad[] = {"\xC0\xAF",
                                      "\xC1\xBF",
                                      "\xE0\x80\xAF", /* overlong */
                                      "\xE0\x9F\xBF",
                                      "\xF0\x80\x80\xAF",
                                      "\xF0\x8F\xBF\xBF",
                                      "\xED\xA0\x80",
                                      "\xED\xBF\xBF", /* surrogates */
                                      "\xF4\x90\x80\x80",
                                      "\xF5\x80\x80\x80",
                                      "\xFE", /* > U+10FFFF */
                                      "\xFF",
                                      "\x80",
                                      "\xBF", /* no start */
                                      "\xC3",
                                      "\xE2\x82",
                                      "\xF0\x9F\x98", /* cut off */
                                      "\xC3(",
                                      "\xE2\x82(",
                                      "\xE9t\xE9"}; /* Latin-1 */
    for (size_t i = 0; i < COUNT(good); i++)
        CU_ASSERT_EQUAL(utf8_check(good[i], strlen(good[i])), strlen(good[i]));
    for (size_t i = 0; i < COUNT(bad); i++)
        CU_ASSERT_EQUAL(utf8_check(bad[i], strlen(bad[i])), 0);
}

/* `length` bytes of plain text with `piece` at `before`, in a block of just
 * that size, so that reading beyond it is seen by valgrind. */
static size_t check_at(size_t before, const char *piece, size_t length) {
    char *text = malloc(length);
    size_t at;
    CU_ASSERT_PTR_NOT_NULL_FATAL(text);
    memset(text, 'a', length);
    memcpy(text + before, piece, strlen(piece));
    at = utf8_check(text, length);
    free(text);
    return at;
}

/* Wherever the bad byte stands, also between runs of plain text, which are
 * passed over eight bytes at a time. */
static void utf8_place_of_trouble(void) {
    for (size_t before = 0; before < 27; before++)
        for (size_t after = 0; after < 19; after++) {
            size_t length = before + 2 + after;
            CU_ASSERT_EQUAL(check_at(before, "\xE9", length), before);
            CU_ASSERT_EQUAL(check_at(before, "\xC3\xA9", length), length);
            CU_ASSERT_EQUAL(check_at(before, "", length), length);
        }
}

/* Widths as in Unicode: combining marks (Mn) 0, East Asian W and F 2. */
static void utf8_columns(void) {
    static const struct {
        const char *text;
        size_t width;
    } rows[] = {
        {"", 0},
        {"squad", 5},
        {"\xC3\xA9t\xC3\xA9", 3},
        {"e\xCC\x81", 1}, /* e, combining acute */
        {"a\xE2\x80\x8B"
         "b",
         2},                             /* zero width space */
        {"\xE6\x97\xA5\xE6\x9C\xAC", 4}, /* Han */
        {"\xED\x95\x9C", 2},             /* Hangul */
        {"\xEF\xBC\xA1", 2},             /* full-width A */
        {"\xF0\x9F\x8F\x83", 2},         /* U+1F3C3, a runner */
        {"\xE2\x88\x92"
         "3",
         2},         /* minus sign */
        {"\xE9", 1}, /* not UTF-8 */
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        CU_ASSERT_EQUAL(utf8_width(rows[i].text), rows[i].width);
}

/* By hand: 10 columns are 4, the two dots and 4; characters stay whole. */
static void shortens(void) {
    static const struct {
        const char *whole;
        size_t columns;
        const char *brief;
    } rows[] = {{"Anna-Lena Schmidt", 10, "Anna..midt"},
                {"Anna-Lena Schmidtke", 11, "Anna-..dtke"},
                {"short", 5, "short"},
                {"longer", 5, "lo..r"},
                {"longer", 3, "lon"},
                {"\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9x", 6,
                 "\xC3\xA9\xC3\xA9..\xC3\xA9x"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Text text = {0};
        text_shorten(&text, rows[i].whole, rows[i].columns);
        ASSERT_TEXT(text_of(&text), rows[i].brief);
        CU_ASSERT(utf8_width(text_of(&text)) <= rows[i].columns);
        text_free(&text);
    }
}

static void utf8_fits(void) {
    static const struct {
        const char *text;
        size_t columns, bytes;
    } rows[] = {
        {"", 5, 0},
        {"squad", 0, 0},
        {"squad", 3, 3},
        {"squad", 17, 5},
        {"\xC3\xA9t\xC3\xA9", 2, 3},
        {"e\xCC\x81x", 1, 3}, /* the mark stays with its letter */
        {"a\xE6\x97\xA5"
         "b",
         2, 1}, /* no half of a wide one */
        {"a\xE6\x97\xA5"
         "b",
         3, 4},
        {"a\xE6\x97\xA5"
         "b",
         4, 5},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        CU_ASSERT_EQUAL(utf8_fit(rows[i].text, rows[i].columns), rows[i].bytes);
}

static void text_trims(void) {
    static const struct {
        const char *text, *wanted;
    } rows[] = {
        {"", ""},
        {"squad", "squad"},
        {" \t\r\n ", ""},
        {"  a b  ", "a b"},
        {" ab", "ab"},
        {"ab ", "ab"},
        {"\xC2\xA0squad\xC2\xA0", "squad"},
        {"\xE2\x80\xAFsquad\xE2\x80\xAF", "squad"},
        {" \xC2\xA0\t\xE2\x80\xAF x \xE2\x80\xAF\xC2\xA0 ", "x"},
        {"a\xC2\xA0"
         "b",
         "a\xC2\xA0"
         "b"},
        {"voil\xC3\xA0", "voil\xC3\xA0"}, /* ends like a no-break space */
        {"\xC2\xA0\xC2\xA0", ""},
        {"\xC2\xB5g", "\xC2\xB5g"},       /* begins like one */
        {"\xE2\x80\xA6", "\xE2\x80\xA6"}, /* an ellipsis */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        size_t length = 999;
        const char *start = text_trim(rows[i].text, &length);
        check_row(length == strlen(rows[i].wanted) &&
                      memcmp(start, rows[i].wanted, length) == 0,
                  "trimmed", rows[i].wanted);
    }
}

static void text_same_case(void) {
    CU_ASSERT(text_same("", ""));
    CU_ASSERT(text_same("HR_max", "hr_MAX"));
    CU_ASSERT_FALSE(text_same("hr_max", "hr_ma"));
    CU_ASSERT_FALSE(text_same("hr_ma", "hr_max"));
    CU_ASSERT_FALSE(text_same("", "x"));
    CU_ASSERT_FALSE(text_same("a[", "a{")); /* 32 apart, not letters */
    CU_ASSERT_FALSE(text_same("@", "`"));
    CU_ASSERT_FALSE(text_same("\xC3\x89", "\xC3\xA9")); /* ASCII only */
}

static void text_excerpt_words(void) {
    static const struct {
        const char *text, *wanted;
    } rows[] = {
        {"", "''"},
        {"7 kg", "'7 kg'"},
        {"a\tb\r\n", "'a\\x09b\\x0D\\x0A'"},
        {"\x1B[31m\x7F", "'\\x1B[31m\\x7F'"},
        {"\xC2\x9B"
         "31m",
         "'\\xC2\\x9B31m'"},                     /* U+009B, a control, too */
        {"caf\xE9", "'caf\\xE9'"},               /* Latin-1 */
        {"a\xE2\x80\xAE", "'a\\xE2\\x80\\xAE'"}, /* turns what follows */
        {"caf\xC3\xA9", "'caf\xC3\xA9'"},
        {"\xC2\xA0", "'\xC2\xA0'"},
        {"0123456789012345678901234567890123456789",
         "'0123456789012345678901234567890123456789'"},
        {"01234567890123456789012345678901234567890",
         "'0123456789012345678901234567890123456789...'"},
    };
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < COUNT(rows); i++) {
        CU_ASSERT_PTR_EQUAL(text_excerpt(shown, rows[i].text), shown);
        ASSERT_TEXT(shown, rows[i].wanted);
    }
}

/* However wide its characters: short, whole, and no more than 40 of them. */
static void text_excerpt_fits(void) {
    static const char *const piece[] = {"\x01", "\xFF", "\xC3\xA9",
                                        "\xE6\x97\xA5", "\xF0\xA3\x8E\xB4"};
    for (size_t i = 0; i < COUNT(piece); i++) {
        char shown[TEXT_EXCERPT];
        Text text = {0};
        size_t length, points = 0;
        for (int k = 0; k < 300; k++)
            text_add(&text, "%s", piece[i]);
        text_excerpt(shown, text_of(&text));
        length = strlen(shown);
        CU_ASSERT(length < TEXT_EXCERPT);
        CU_ASSERT_EQUAL(utf8_check(shown, length), length);
        CU_ASSERT_EQUAL(strcmp(shown + length - 4, "...'"), 0);
        for (size_t at = 1; at < length - 4; at++)
            points += ((unsigned char)shown[at] & 0xC0) != 0x80;
        CU_ASSERT(points >= 30);
        CU_ASSERT(points <= (strlen(piece[i]) > 1 ? 40 : 160));
        text_free(&text);
    }
}

static void assert_shown(const char *text, const char *people,
                         const char *data) {
    Text shown = {0};
    text_add(&shown, ">");
    text_show(&shown, text);
    CU_ASSERT_PTR_NOT_NULL_FATAL(shown.data);
    ASSERT_TEXT(shown.data + 1, people);
    text_clear(&shown);
    text_add(&shown, ">");
    text_show_data(&shown, text);
    ASSERT_TEXT(shown.data + 1, data);
    text_free(&shown);
}

/* U+009B opens a terminal sequence, U+0085 ends a line, U+202E turns what
 * follows. */
static void text_is_shown(void) {
    assert_shown("", "", "");
    assert_shown("wing-07 ~ 60 kg", "wing-07 ~ 60 kg", "wing-07 ~ 60 kg");
    assert_shown("a\tb\r\nc", "a b  c", "a\tb\r\nc");
    assert_shown("\x1B[31m\x7F", "\\x1B[31m\\x7F", "\\x1B[31m\\x7F");
    assert_shown("caf\xC3\xA9\xC2\xA0\xE6\x97\xA5",
                 "caf\xC3\xA9\xC2\xA0\xE6\x97\xA5",
                 "caf\xC3\xA9\xC2\xA0\xE6\x97\xA5");
    assert_shown("a\xC2\x9B"
                 "31mb\xC2\x85",
                 "a\\xC2\\x9B31mb\\xC2\\x85", "a\\xC2\\x9B31mb\\xC2\\x85");
    assert_shown("caf\xE9 \xE2\x80", "caf\\xE9 \\xE2\\x80",
                 "caf\\xE9 \\xE2\\x80");
    assert_shown("a\xE2\x80\xAE"
                 "b",
                 "ab",
                 "a\xE2\x80\xAE"
                 "b");
}

static const char *as_it_is(char c) {
    (void)c;
    return NULL;
}

/* What shows nothing, or turns what follows, gets into no file that is shown:
 * U+0080, U+009F, U+202A to U+202E, U+2066 to U+2069, U+FFFE, U+FFFF; what lies
 * beside them (U+00A0, U+2029, U+202F, U+2065, U+206A, U+FFFD, U+FEFE) does. */
static void text_unseen(void) {
    static const char *const unseen[] = {
        "\xC2\x80",     "\xC2\x9F",     "\xE2\x80\xAA", "\xE2\x80\xAE",
        "\xE2\x81\xA6", "\xE2\x81\xA9", "\xEF\xBF\xBE", "\xEF\xBF\xBF"};
    static const char *const seen[] = {
        "\xC2\xA0",     "\xE2\x80\xA9", "\xE2\x80\xAF", "\xE2\x81\xA5",
        "\xE2\x81\xAA", "\xEF\xBF\xBD", "\xEF\xBB\xBE"};
    for (size_t i = 0; i < COUNT(unseen) + COUNT(seen); i++) {
        bool gone = i < COUNT(unseen);
        Text given = {0}, want = {0}, text = {0};
        const char *one = gone ? unseen[i] : seen[i - COUNT(unseen)];
        text_add(&given, "ab%scd", one);
        text_add(&want, "ab%scd", gone ? "" : one);
        text_escape(&text, text_of(&given), as_it_is);
        ASSERT_TEXT(text_of(&text), text_of(&want));
        text_free(&given);
        text_free(&want);
        text_free(&text);
    }
}

static void text_with_controls(void) {
    static const char *const with[] = {
        "a\x01",    "\x1B[31m",     "\x7F",        "a\xC2\x80",
        "\xC2\x9F", "\xEF\xBF\xBE", "\xEF\xBF\xBF"};
    static const char *const without[] = {"", "a\tb\r\n", "caf\xC3\xA9",
                                          "\xC2\xA0", "\xEF\xBF\xBD"};
    for (size_t i = 0; i < COUNT(with); i++)
        CU_ASSERT_TRUE(text_has_control(with[i]));
    for (size_t i = 0; i < COUNT(without); i++)
        CU_ASSERT_FALSE(text_has_control(without[i]));
}

static void text_grows(void) {
    Text text = {0};
    size_t length = 0;
    ASSERT_TEXT(text_of(&text), "");
    text_clear(&text);
    for (int i = 0; i < 3000; i++) {
        text_add(&text, "%d,", i);
        length += i < 10 ? 2 : i < 100 ? 3 : i < 1000 ? 4 : 5;
    }
    CU_ASSERT_EQUAL(text.length, length);
    CU_ASSERT_EQUAL(strlen(text_of(&text)), length);
    ASSERT_HAS(text_of(&text), ",1776,1777,");
    CU_ASSERT_EQUAL(strcmp(text.data + length - 5, "2999,"), 0);
    text_add(&text, "%s", "");
    CU_ASSERT_EQUAL(text.length, length);
    text_clear(&text);
    ASSERT_TEXT(text_of(&text), "");
    text_put(&text, "x\0y", 3);
    CU_ASSERT_EQUAL(text.length, 3);
    CU_ASSERT_EQUAL(memcmp(text.data, "x\0y", 4), 0);
    text_free(&text);
    CU_ASSERT_PTR_NULL(text.data);
    CU_ASSERT_EQUAL(text.length, 0);
}

static const TestCase cases[] = {
    {"utf8_every_code_point", utf8_every_code_point},
    {"utf8_every_start", utf8_every_start},
    {"utf8_known", utf8_known},
    {"utf8_place_of_trouble", utf8_place_of_trouble},
    {"utf8_columns", utf8_columns},
    {"utf8_fits", utf8_fits},
    {"shortens", shortens},
    {"text_trims", text_trims},
    {"text_same_case", text_same_case},
    {"text_excerpt_words", text_excerpt_words},
    {"text_excerpt_fits", text_excerpt_fits},
    {"text_is_shown", text_is_shown},
    {"text_unseen", text_unseen},
    {"text_with_controls", text_with_controls},
    {"text_grows", text_grows},
    {NULL, NULL}};

const TestSuite suite_base_text = {"base", cases};
