/* base: tests of the ground floor.
 *
 * Where expected values come from: numbers are read by the C compiler too,
 * days are counted by the C library's gmtime_r(), UTF-8 is judged by encoding
 * every code point anew, tables are compared with the records of csv-spectrum,
 * with what libcsv makes of the same bytes, or with lines and cells counted
 * while the file was made. Messages are tested
 * for the words that a user needs, not for their full wording.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/date.h"
#include "base/home.h"
#include "base/mem.h"
#include "base/number.h"
#include "base/outfile.h"
#include "base/stream.h"
#include "base/table.h"
#include "base/text.h"
#include "fuzz/reference.h"

#include <dirent.h>
#include <float.h>
#include <math.h>
#include <setjmp.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define BYTES(literal) literal, sizeof(literal) - 1

static const NumberStyle POINT = {false}, COMMA = {true};

/* The same numbers in every run (Knuth's MMIX generator), 0 to 1. */
static double next_random(uint64_t *state) {
    *state =
        *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (double)(*state >> 11) / 9007199254740992.0;
}

/* Says which row of a test table failed. */
static void check_row(bool good, const char *what, const char *row) {
    char message[300];
    snprintf(message, sizeof message, "%.70s: <%.200s>", what, row);
    CU_assertImplementation(good, __LINE__, message, __FILE__, "", CU_FALSE);
}

/* ---- number ---- */

static void number_accepts(void) {
    static const struct {
        const char *text;
        bool comma;
        double value;
    } rows[] = {
        {"2.385", false, 2.385},
        {"0", false, 0.0},
        {"-17", false, -17.0},
        {"+31.7", false, 31.7},
        {"007.50", false, 7.5},
        {".625", false, 0.625},
        {"41.", false, 41.0},
        {"6.02e23", false, 6.02e23},
        {"6.02E+23", false, 6.02e23},
        {"-3.5e-05", false, -3.5e-05},
        {"1.234", false, 1.234},
        {"0.234", false, 0.234},
        {"123456.789", false, 123456.789},
        {"1.7976931348623157e308", false, DBL_MAX},
        {"  8.25\t", false, 8.25},
        {"\xC2\xA0"
         "8.25\xC2\xA0",
         false, 8.25},
        {"\xE2\x80\xAF"
         "8.25\xE2\x80\xAF",
         false, 8.25},
        {"5,5", true, 5.5},
        {"-0,385", true, -0.385},
        {"1234,5", true, 1234.5},
        {"1,2340", true, 1.234},
        {"12,34", true, 12.34},
        {"2,5e3", true, 2500.0},
        {",75", true, 0.75},
        {"1234", true, 1234.0},
        {"5.5", true, 5.5},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        NumberStyle style = {rows[i].comma};
        const char *wanted = NULL;
        double value = NAN;
        bool good = number_read(rows[i].text, style, &value, &wanted);
        check_row(good && value == rows[i].value, "number_read", rows[i].text);
    }
}

typedef struct {
    const char *text;
    bool comma;
    const char *wanted; /* part of the words, or all: "a number" */
} Refusal;

static void check_refusals(const Refusal *rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        NumberStyle style = {rows[i].comma};
        const char *wanted = NULL;
        double value;
        bool good = number_read(rows[i].text, style, &value, &wanted);
        check_row(!good, "refused", rows[i].text);
        if (strcmp(rows[i].wanted, "a number") == 0)
            ASSERT_TEXT(wanted, rows[i].wanted);
        else
            ASSERT_HAS(wanted, rows[i].wanted);
    }
}

static void number_refuses(void) {
    static const Refusal rows[] = {
        {"", false, "a number"},
        {"   ", false, "a number"},
        {"\xC2\xA0", false, "a number"},
        {"x", false, "a number"},
        {"-", false, "a number"},
        {".", false, "number"},
        {"e5", false, "a number"},
        {"12kg", false, "a number"},
        {"12 kg", false, "a number"},
        {"1e", false, "a number"},
        {"1e+", false, "a number"},
        {"1e2.5", false, "a number"},
        {"--4", false, "a number"},
        {"4-", false, "a number"},
        {"- 4", false, "a number"},
        {"0x1F", false, "a number"},
        {"nan", false, "a number"},
        {"NaN", false, "a number"},
        {"inf", false, "a number"},
        {"-Infinity", false, "a number"},
        {"#N/A", false, "a number"},
        {"7:30", false, "a number"},
        {"50%", false, "a number"},
        {"\xD9\xA3", false, "a number"}, /* the Arabic digit three */
        {"1e309", false, "a computer can hold"},
        {"-1e999", true, "a computer can hold"},
        {"5,5", false, "decimal point"},
        {"5,5", false, "';'"},
        {"1.2.3", false, "without thousands separators"},
        {"1'234", false, "without thousands separators"},
        {"1 234", false, "without thousands separators"},
        {"1\xC2\xA0"
         "234",
         true, "without thousands separators"},
        {"1,234,567", true, "without thousands separators"},
    };
    char nines[200];
    const Refusal long_one = {nines, false, "a number"};
    check_refusals(rows, COUNT(rows));
    memset(nines, '9', sizeof nines - 1);
    nines[sizeof nines - 1] = '\0';
    check_refusals(&long_one, 1);
}

/* What two people could read differently. */
static void number_ambiguous(void) {
    static const Refusal rows[] = {
        {"1,234", false, "without thousands separators"},
        {"1.234,5", false, "without thousands separators"},
        {"1,234.5", false, "without thousands separators"},
        {"1,234", true, "reads one way only"},
        {"1.234", true, "reads one way only"},
        {"-12.345", true, "reads one way only"},
        {"123,456", true, "reads one way only"},
        {"1.234,5", true, "without thousands separators"},
        {"1,234.5", true, "without thousands separators"},
    };
    static const char *const clear[] = {"0,234", "1234,567", "1,2345", "1,23"};
    check_refusals(rows, COUNT(rows));
    for (size_t i = 0; i < COUNT(clear); i++) {
        const char *wanted;
        double value;
        check_row(number_read(clear[i], COMMA, &value, &wanted), "clear",
                  clear[i]);
    }
}

/* 12 significant digits: half a unit in the twelfth is at most 5e-12. */
static bool reads_back(double value) {
    char text[NUMBER_TEXT];
    const char *wanted;
    double again;
    number_write(text, value);
    return strspn(text, "0123456789.e+-") == strlen(text) &&
           number_read(text, POINT, &again, &wanted) &&
           fabs(again - value) <= 5.0001e-12 * fabs(value);
}

static void number_write_reads_back(void) {
    static const double values[] = {
        2.385,  -17.0,   1.0 / 3.0, 123456789.123, 5e-324 * 1e10,
        1e-300, DBL_MAX, DBL_MIN,   0.1 + 0.2,     -9.99999999999e-5};
    uint64_t state = 20240115;
    size_t bad = 0;
    for (size_t i = 0; i < COUNT(values); i++)
        CU_ASSERT(reads_back(values[i]));
    for (int i = 0; i < 20000; i++) {
        double size = pow(10.0, 600.0 * next_random(&state) - 300.0);
        bad += !reads_back(size * (next_random(&state) - 0.5));
    }
    CU_ASSERT_EQUAL(bad, 0);
}

/* Up to 20 digits with a point anywhere among them: what the C library reads.
 */
static void number_digits(void) {
    uint64_t state = 7;
    size_t bad = 0;
    for (int i = 0; i < 50000; i++) {
        char text[32];
        int digits = 1 + (int)(20 * next_random(&state));
        int point = (int)((digits + 1) * next_random(&state));
        const char *wanted;
        double value;
        for (int k = 0; k <= digits; k++)
            text[k] = (char)('0' + (int)(10 * next_random(&state)));
        text[point] = '.';
        text[digits + 1] = '\0';
        bad += !number_read(text, POINT, &value, &wanted) ||
               value != strtod(text, NULL);
    }
    CU_ASSERT_EQUAL(bad, 0);
}

static void number_write_words(void) {
    static const struct {
        double value;
        const char *text;
    } rows[] = {{2.385, "2.385"},
                {0.0, "0"},
                {-0.0, "0"},
                {-31.5, "-31.5"},
                {1000000.0, "1000000"},
                {123456789.123, "123456789.123"},
                {0.1 + 0.2, "0.3"},
                {NAN, ""},
                {INFINITY, ""},
                {-INFINITY, ""},
                {1234567890.25, "1234567890.25"}};
    char text[NUMBER_TEXT];
    for (size_t i = 0; i < COUNT(rows); i++) {
        memset(text, 'x', sizeof text);
        CU_ASSERT_PTR_EQUAL(number_write(text, rows[i].value), text);
        ASSERT_TEXT(text, rows[i].text);
    }
}

static void number_whole(void) {
    static const struct {
        const char *text;
        long low, high;
        bool good;
        long value;
    } rows[] = {{"37", 1, 64, true, 37},
                {"1", 1, 64, true, 1},
                {"64", 1, 64, true, 64},
                {"007", 1, 64, true, 7},
                {"-5", -9, 9, true, -5},
                {"0", 0, 0, true, 0},
                {"65", 1, 64, false, 0},
                {"0", 1, 64, false, 0},
                {"-5", 1, 64, false, 0},
                {"", 0, 64, false, 0},
                {"-", -9, 9, false, 0},
                {"+5", 1, 64, false, 0},
                {" 5", 1, 64, false, 0},
                {"5 ", 1, 64, false, 0},
                {"5.0", 1, 64, false, 0},
                {"5x", 1, 64, false, 0},
                {"5e1", 1, 64, false, 0},
                {"0x5", 0, 64, false, 0},
                {"--5", -9, 9, false, 0},
                {"seven", 1, 64, false, 0},
                {"99999999999999999999999", 0, LONG_MAX, false, 0},
                {"-99999999999999999999999", LONG_MIN, 0, false, 0}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        long value = -77;
        bool good =
            number_read_whole(rows[i].text, rows[i].low, rows[i].high, &value);
        check_row(good == rows[i].good && (!good || value == rows[i].value),
                  "whole number", rows[i].text);
    }
}

/* ---- date ---- */

/* Day numbers: spreadsheet serial (1899-12-30 + N) less 25569, which is the
 * serial of 1970-01-01; that 45306 is 2024-01-15 was seen in a spreadsheet. */
static void date_known_days(void) {
    static const struct {
        Civil civil;
        int serial, weekday;
    } rows[] = {
        {{1970, 1, 1}, 25569, 3},   /* Thursday */
        {{2024, 1, 15}, 45306, 0},  /* Monday */
        {{2000, 2, 29}, 36585, 1},  /* Tuesday */
        {{1900, 1, 1}, 2, 0},       /* Monday */
        {{1900, 3, 1}, 61, 3},      /* Thursday */
        {{2100, 3, 1}, 73110, 0},   /* Monday */
        {{2199, 12, 31}, 109574, 1} /* Tuesday */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        Date date = date_of(rows[i].civil);
        CU_ASSERT_EQUAL(date, rows[i].serial - 25569);
        CU_ASSERT_EQUAL(date_weekday(date), rows[i].weekday);
    }
}

static void date_no_such_day(void) {
    static const Civil rows[] = {{1900, 2, 29}, {2100, 2, 29},  {2023, 2, 29},
                                 {2024, 2, 30}, {2026, 4, 31},  {2026, 0, 17},
                                 {2026, 13, 1}, {2026, 3, 0},   {2026, 3, 32},
                                 {2026, -1, 5}, {2026, 5, -1},  {1899, 12, 31},
                                 {2200, 1, 1},  {-2026, 3, 17}, {0, 0, 0}};
    for (size_t i = 0; i < COUNT(rows); i++)
        CU_ASSERT_EQUAL(date_of(rows[i]), DATE_NONE);
}

/* One day against the C library's calendar. */
static bool same_as_library(Date date, const struct tm *day) {
    Civil civil = date_civil(date);
    char text[DATE_TEXT], iso[64], why[DATE_WHY];
    Date again = DATE_NONE;
    snprintf(iso, sizeof iso, "%04d-%02d-%02d", day->tm_year + 1900,
             day->tm_mon + 1, day->tm_mday);
    return civil.year == day->tm_year + 1900 &&
           civil.month == day->tm_mon + 1 && civil.day == day->tm_mday &&
           date_of(civil) == date &&
           date_weekday(date) == (day->tm_wday + 6) % 7 &&
           strcmp(date_write(text, date), iso) == 0 &&
           date_read(iso, DATES_ISO, &again, why) && again == date;
}

static void date_roundtrip(void) {
    size_t days = 0, bad = 0, valid = 0;
    time_t second = (time_t)-25567 * 86400; /* 1900-01-01 */
    struct tm day;
    for (Date date = -25567;; date++, second += 86400, days++) {
        if (!gmtime_r(&second, &day) || day.tm_year > 299)
            break;
        bad += !same_as_library(date, &day);
    }
    CU_ASSERT_EQUAL(bad, 0);
    /* 300 years with 73 leap days: every fourth but 1900 and 2100 */
    CU_ASSERT_EQUAL(days, 300 * 365 + 73);
    for (int year = 1890; year <= 2210; year++)
        for (int month = -1; month <= 14; month++)
            for (int d = -1; d <= 33; d++)
                valid += date_of((Civil){year, month, d}) != DATE_NONE;
    CU_ASSERT_EQUAL(valid, 300 * 365 + 73);
}

static void date_names(void) {
    char text[DATE_TEXT];
    ASSERT_TEXT(date_weekday_name(0), "Mon");
    ASSERT_TEXT(date_weekday_name(6), "Sun");
    ASSERT_TEXT(date_month_name(1), "Jan");
    ASSERT_TEXT(date_month_name(12), "Dec");
    ASSERT_TEXT(date_write(text, 19737), "2024-01-15");
    ASSERT_TEXT(date_write(text, DATE_NONE), "");
    ASSERT_TEXT(date_write_short(text, 19737), "Mon 15 Jan");
    ASSERT_TEXT(date_write_short(text, 20568), "Sat 25 Apr");
    ASSERT_TEXT(date_write_short(text, 0), "Thu 1 Jan");
}

typedef struct {
    const char *text;
    DateOrder order;
    const char *result; /* the date, or part of what was expected */
} DateRow;

static void check_dates_read(const DateRow *rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        char why[DATE_WHY] = "", text[DATE_TEXT];
        Date date = DATE_NONE;
        check_row(date_read(rows[i].text, rows[i].order, &date, why), why,
                  rows[i].text);
        ASSERT_TEXT(date_write(text, date), rows[i].result);
    }
}

static void check_dates_refused(const DateRow *rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        char why[DATE_WHY] = "";
        Date date;
        check_row(!date_read(rows[i].text, rows[i].order, &date, why),
                  "refused", rows[i].text);
        ASSERT_HAS(why, rows[i].result);
        CU_ASSERT(strlen(why) < DATE_WHY - 1); /* not cut short */
    }
}

static void date_orders(void) {
    static const DateRow rows[] = {
        {"2026-03-09", DATES_ISO, "2026-03-09"},
        {"2026-03-09", DATES_DMY, "2026-03-09"},
        {"2026-03-09", DATES_MDY, "2026-03-09"},
        {"  2026-03-09\xC2\xA0", DATES_ISO, "2026-03-09"},
        {"09/03/2026", DATES_DMY, "2026-03-09"},
        {"09/03/2026", DATES_MDY, "2026-09-03"},
        {"9.3.2026", DATES_DMY, "2026-03-09"},
        {"9-3-2026", DATES_DMY, "2026-03-09"},
        {"3/9/2026", DATES_MDY, "2026-03-09"},
        {"31/12/2199", DATES_DMY, "2199-12-31"},
        {"29.2.2024", DATES_DMY, "2024-02-29"},
    };
    check_dates_read(rows, COUNT(rows));
}

static void date_refuses(void) {
    static const DateRow rows[] = {
        {"", DATES_ISO, "YYYY-MM-DD"},
        {"yesterday", DATES_ISO, "YYYY-MM-DD"},
        {"2026-3-9", DATES_ISO, "YYYY-MM-DD"},
        {"2026/03/09", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03-", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03/09", DATES_ISO, "YYYY-MM-DD"},
        {"2026/03-09", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03-09T10:00", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03-09x", DATES_ISO, "YYYY-MM-DD"},
        {"-2026-03-09", DATES_ISO, "YYYY-MM-DD"},
        {"2026-0:-09", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03-0:", DATES_ISO, "YYYY-MM-DD"},
        {"202:-03-09", DATES_ISO, "YYYY-MM-DD"},
        {":026-03-09", DATES_ISO, "YYYY-MM-DD"},
        {"2026-1/-09", DATES_ISO, "YYYY-MM-DD"},
        {"2026-03-/9", DATES_ISO, "YYYY-MM-DD"},
        {"9 Mar 2026", DATES_DMY, "YYYY-MM-DD"},
        {"2026-03-09 and then some more text", DATES_DMY, "YYYY-MM-DD"},
        {"2026-02-30", DATES_ISO, "a day that exists"},
        {"2026-13-09", DATES_ISO, "a day that exists"},
        {"2026-00-09", DATES_ISO, "a day that exists"},
        {"2100-02-29", DATES_ISO, "a day that exists"},
        {"1899-12-31", DATES_ISO, "1900 to 2199"},
        {"2200-01-01", DATES_ISO, "1900 to 2199"},
        {"30.2.2026", DATES_DMY, "a day that exists"},
    };
    check_dates_refused(rows, COUNT(rows));
}

/* Another order is never guessed, and the message names the option. */
static void date_names_the_option(void) {
    static const DateRow rows[] = {
        {"09/03/2026", DATES_ISO, "--dates dmy"},
        {"09/03/2026", DATES_ISO, "--dates mdy"},
        {"25.4.2026", DATES_ISO, "--dates dmy"},
        {"09-03-26", DATES_ISO, "--dates dmy"},
        {"03/25/2026", DATES_DMY, "--dates mdy"},
        {"12/13/2026", DATES_DMY, "--dates mdy"},
        {"25/03/2026", DATES_MDY, "--dates dmy"},
        {"13/12/2026", DATES_MDY, "--dates dmy"},
        {"9/3/26", DATES_DMY, "year in four digits"},
        {"9/3/26", DATES_MDY, "year in four digits"},
        {"26.3.09", DATES_DMY, "year in four digits"},
        {"9/3/02026", DATES_DMY, "year in four digits"},
    };
    check_dates_refused(rows, COUNT(rows));
}

/* Serial day N is 1899-12-30 + N: said in the error, never read as a date. */
static void date_serial(void) {
    static const DateRow rows[] = {
        {"45306", DATES_ISO, "day number (2024-01-15)"},
        {"45306", DATES_DMY, "day number (2024-01-15)"},
        {"36585", DATES_MDY, "day number (2000-02-29)"},
        {"73110", DATES_ISO, "day number (2100-03-01)"},
        {"00061", DATES_ISO, "day number (1900-03-01)"},
        {"109574", DATES_ISO, "day number (2199-12-31)"},
        {"45306", DATES_ISO, "YYYY-MM-DD"},
    };
    static const char *const others[] = {"109575", "60", "00060", "20260309",
                                         "45306.25"};
    check_dates_refused(rows, COUNT(rows));
    for (size_t i = 0; i < COUNT(others); i++) {
        char why[DATE_WHY] = "";
        Date date;
        CU_ASSERT_FALSE(date_read(others[i], DATES_ISO, &date, why));
        ASSERT_HAS(why, "YYYY-MM-DD");
        check_row(!strstr(why, "day number"), why, others[i]);
    }
}

static void time_of_day(void) {
    static const struct {
        const char *text;
        int minute; /* -1: refused */
    } rows[] = {
        {"00:00", 0},       {"9:05", 545},     {"09:05", 545}, {"23:59", 1439},
        {"17:30:59", 1050}, {" 17:30 ", 1050}, {"24:00", -1},  {"12:60", -1},
        {"12:30:60", -1},   {"9", -1},         {"9:5", -1},    {"009:05", -1},
        {"9:005", -1},      {"9:05:", -1},     {"9:05:1", -1}, {"9:05pm", -1},
        {":30", -1},        {"", -1},          {"-1:30", -1},  {"9.05", -1},
        {"9:05:07:00", -1}, {"nine:05", -1},   {"+9:05", -1}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        int minute = -2;
        bool good = time_read(rows[i].text, &minute);
        check_row(good == (rows[i].minute >= 0), "time", rows[i].text);
        if (good)
            CU_ASSERT_EQUAL(minute, rows[i].minute);
    }
}

/* ---- text ---- */

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

/* ---- status and notes ---- */

static void status_keeps_the_first(void) {
    Status status = {0};
    CU_ASSERT_EQUAL(status_fail(&status, STATUS_USAGE, "no '%s'", "taper"),
                    STATUS_USAGE);
    CU_ASSERT_EQUAL(status_fail(&status, STATUS_SYSTEM, "disk"), STATUS_USAGE);
    CU_ASSERT_EQUAL(status.code, STATUS_USAGE);
    ASSERT_TEXT(status.text, "no 'taper'");
}

static void status_cuts(void) {
    Status status = {0};
    char text[3 * STATUS_TEXT];
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    status_fail(&status, STATUS_DATA, "%s", text);
    CU_ASSERT_EQUAL(strlen(status.text), STATUS_TEXT - 1);
}

static void level_words(void) {
    ASSERT_TEXT(level_name(LEVEL_NOTICE), "notice");
    ASSERT_TEXT(level_name(LEVEL_WARNING), "warning");
    ASSERT_TEXT(level_name(LEVEL_ERROR), "error");
}

static void notes_codes(void) {
    Notes notes = {0};
    Place place = {"sessions.csv", 17, "load"};
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_OK);
    notes_add(&notes, LEVEL_NOTICE, place, "one");
    notes_add(&notes, LEVEL_WARNING, place, "two");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_OK);
    CU_ASSERT_EQUAL(notes.errors, 0);
    notes_add(&notes, LEVEL_ERROR, place, "three");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    notes_add_system(&notes, place, "four %d", 4);
    notes_add(&notes, LEVEL_ERROR, place, "five");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    CU_ASSERT_EQUAL(notes.errors, 3);
    CU_ASSERT_EQUAL(notes.count, 5);
    notes_free(&notes);
    CU_ASSERT_EQUAL(notes.count, 0);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_OK);
}

/* Notes keep copies, and places with parts missing. */
static void notes_keep_places(void) {
    Notes notes = {0};
    char file[] = "tests.csv", column[] = "value";
    notes_add(&notes, LEVEL_ERROR, (Place){file, 31, column}, "reads '%s'",
              "x");
    notes_add(&notes, LEVEL_NOTICE, (Place){0}, "said");
    file[0] = column[0] = '?';
    CU_ASSERT_EQUAL_FATAL(notes.count, 2);
    ASSERT_TEXT(notes.items[0].file, "tests.csv");
    ASSERT_TEXT(notes.items[0].column, "value");
    ASSERT_TEXT(notes.items[0].text, "reads 'x'");
    CU_ASSERT_EQUAL(notes.items[0].line, 31);
    CU_ASSERT_EQUAL(notes.items[0].level, LEVEL_ERROR);
    CU_ASSERT_PTR_NULL(notes.items[1].file);
    CU_ASSERT_PTR_NULL(notes.items[1].column);
    CU_ASSERT_EQUAL(notes.items[1].line, 0);
    notes_free(&notes);
}

static void notes_repeats(void) {
    static const struct {
        Level level;
        Place place;
        const char *text;
        size_t count; /* of notes after adding this one */
    } rows[] = {
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odd", 1},
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odd", 1},
        {LEVEL_WARNING, {"a.csv", 8, "load"}, "odd", 2},
        {LEVEL_WARNING, {"b.csv", 7, "load"}, "odd", 3},
        {LEVEL_WARNING, {"a.csv", 7, "kind"}, "odd", 4},
        {LEVEL_NOTICE, {"a.csv", 7, "load"}, "odd", 5},
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odder", 6},
        {LEVEL_WARNING, {"a.csv", 7, NULL}, "odd", 7},
        {LEVEL_WARNING, {NULL, 7, "load"}, "odd", 8},
        {LEVEL_WARNING, {"a.csv", 7, "load"}, "odd", 8},
    };
    Notes notes = {0};
    for (size_t i = 0; i < COUNT(rows); i++) {
        notes_add(&notes, rows[i].level, rows[i].place, "%s", rows[i].text);
        CU_ASSERT_EQUAL(notes.count, rows[i].count);
    }
    notes_free(&notes);
}

/* Same level, file and column, and texts alike but for numbers and quotes. */
static void notes_sorts(void) {
    static const struct {
        Level level;
        Place place;
        const char *text;
        size_t sort, alike;
    } rows[] = {
        {LEVEL_ERROR, {"a.csv", 2, "load"}, "'x' is not a number", 0, 0},
        {LEVEL_ERROR, {"a.csv", 3, "load"}, "'12 y' is not a number", 0, 1},
        {LEVEL_ERROR, {"a.csv", 4, "kind"}, "'x' is not a number", 1, 0},
        {LEVEL_ERROR, {"b.csv", 5, "load"}, "'x' is not a number", 2, 0},
        {LEVEL_WARNING, {"a.csv", 6, "load"}, "'x' is not a number", 3, 0},
        {LEVEL_ERROR, {"a.csv", 7, "load"}, "'x' is not a day", 4, 0},
        {LEVEL_ERROR, {"a.csv", 8, "load"}, "has 3 cells", 5, 0},
        {LEVEL_ERROR, {"a.csv", 9, "load"}, "has 41 cells", 5, 1},
        {LEVEL_ERROR, {"a.csv", 10, "load"}, "has 41 cells and more", 6, 0},
        {LEVEL_ERROR, {"a.csv", 11, "load"}, "'' is not a number", 0, 2},
        {LEVEL_ERROR, {"a.csv", 12, "load"}, "it's 5", 7, 0},
        {LEVEL_ERROR, {"a.csv", 13, "load"}, "it's 66", 7, 1},
    };
    Notes notes = {0};
    for (size_t i = 0; i < COUNT(rows); i++) {
        notes_add(&notes, rows[i].level, rows[i].place, "%s", rows[i].text);
        check_row(notes.items[i].sort == rows[i].sort &&
                      notes.items[i].alike == rows[i].alike,
                  "sort and number of those alike", rows[i].text);
    }
    CU_ASSERT_EQUAL(notes.sorts[0].first, 0);
    CU_ASSERT_EQUAL(notes.sorts[0].count, 3);
    CU_ASSERT_EQUAL(notes.sorts[7].first, 10);
    notes_free(&notes);
}

/* More sorts than are told apart: nothing is lost. */
static void notes_many_sorts(void) {
    enum { MORE = NOTE_SORTS + 40 };
    Notes notes = {0};
    size_t sum = 0;
    for (int i = 0; i < MORE; i++) {
        char column[3] = {(char)('a' + i / 26), (char)('a' + i % 26), '\0'};
        notes_add(&notes, LEVEL_ERROR, (Place){"a.csv", 3, column}, "odd");
    }
    CU_ASSERT_EQUAL(notes.count, MORE);
    CU_ASSERT_EQUAL(notes.sort_count, NOTE_SORTS);
    for (size_t i = 0; i < notes.sort_count; i++)
        sum += notes.sorts[i].count;
    CU_ASSERT_EQUAL(sum, MORE);
    notes_free(&notes);
}

static void notes_dropping(void) {
    Notes notes = {0};
    for (size_t i = 0; i < NOTES_KEPT + 7; i++)
        notes_add(&notes, i % 2 ? LEVEL_ERROR : LEVEL_WARNING,
                  (Place){"sessions.csv", i + 2, "load"}, "row %zu", i);
    CU_ASSERT_EQUAL(notes.count, NOTES_KEPT);
    CU_ASSERT_EQUAL(notes.dropped, 7);
    CU_ASSERT_EQUAL(notes.errors, (NOTES_KEPT + 7) / 2);
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_DATA);
    /* a graver error counts even when its note is not kept */
    notes_add_system(&notes, (Place){"tests.csv", 0, NULL}, "cannot be read");
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    notes_free(&notes);
}

/* Notes that are not kept count in the list they are moved to, and so do
 * errors said again. */
static void notes_moving(void) {
    Notes notes = {0}, all = {0};
    Place place = {"sessions.csv", 0, "load"};
    notes_add(&all, LEVEL_ERROR, place, "before");
    for (size_t i = 0; i < NOTES_KEPT + 6; i++)
        notes_add(&notes, LEVEL_WARNING, place, "row %zu", i);
    notes_add_system(&notes, place, "cannot be read");
    notes_move(&notes, &all);
    CU_ASSERT_EQUAL(notes.count + notes.errors + notes.dropped, 0);
    CU_ASSERT_EQUAL(all.count, NOTES_KEPT);
    CU_ASSERT_EQUAL(all.dropped, 1 + 7);
    CU_ASSERT_EQUAL(all.errors, 2);
    CU_ASSERT_EQUAL(notes_code(&all), STATUS_SYSTEM);
    notes_free(&all);
    notes_add(&notes, LEVEL_ERROR, place, "twice");
    notes_add(&notes, LEVEL_ERROR, place, "twice");
    notes_move(&notes, &all);
    CU_ASSERT_EQUAL(all.count, 1);
    CU_ASSERT_EQUAL(all.errors, 2);
    notes_free(&all);
}

/* ---- table: reading it as text ---- */

/* What a table holds: the headings, then "LINE:cell|cell" for each row. Empty
 * when it could not be opened. */
typedef struct {
    Text text;
    Notes notes;
    bool decimal_comma;
} Reading;

static void put_row(Text *text, const TableRow *row) {
    text_add(text, "%zu:", row->line);
    for (size_t i = 0; i < row->count; i++)
        text_add(text, "%s%s", i ? "|" : "", row->cells[i]);
    text_add(text, "\n");
}

static void put_table(Reading *r, Table *table) {
    TableRow row;
    if (!table)
        return;
    for (size_t i = 0; i < table_width(table); i++)
        text_add(&r->text, "%s%s", i ? "|" : "", table_heading(table, i));
    text_add(&r->text, "\n");
    while (table_next(table, &row))
        put_row(&r->text, &row);
    CU_ASSERT_FALSE(table_next(table, &row)); /* the end stays the end */
    r->decimal_comma = table_style(table).decimal_comma;
    table_close(table);
}

static Reading read_bytes(const char *bytes, size_t length, TableMaps *maps) {
    Reading r = {0};
    FILE *stream = fmemopen((void *)(uintptr_t)bytes, length, "rb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    put_table(&r, table_open_stream(stream, "in.csv", maps, &r.notes));
    fclose(stream);
    return r;
}

static Reading read_path(const char *path) {
    Reading r = {0};
    put_table(&r, table_open(path, NULL, &r.notes));
    return r;
}

static void reading_free(Reading *r) {
    text_free(&r->text);
    notes_free(&r->notes);
}

typedef struct {
    const char *bytes;
    size_t length;
    const char *wanted;
} Sample;

static void check_samples(const Sample *samples, size_t count) {
    for (size_t i = 0; i < count; i++) {
        Reading r = read_bytes(samples[i].bytes, samples[i].length, NULL);
        ASSERT_TEXT(text_of(&r.text), samples[i].wanted);
        check_row(r.notes.count == 0, "no note", samples[i].bytes);
        reading_free(&r);
    }
}

/* ---- table: contents ---- */

/* csv-spectrum, github max-mapper/csv-spectrum, commit d30e80f8, licence
 * BSD-2-Clause (its package.json): the files of csvs/ and, as expected rows,
 * the records of json/. Line numbers were counted by hand. The name in the
 * first is the data's own placeholder. */
static void table_csv_spectrum(void) {
    static const Sample samples[] = {
        {BYTES("first,last,address,city,zip\n"
               "John,Doe,120 any st.,\"Anytown, WW\",08123"),
         "first|last|address|city|zip\n"
         "2:John|Doe|120 any st.|Anytown, WW|08123\n"},
        {BYTES("a,b,c\n1,\"\",\"\"\n2,3,4"), "a|b|c\n2:1||\n3:2|3|4\n"},
        {BYTES("a,b,c\r\n1,\"\",\"\"\r\n2,3,4\r"), "a|b|c\n2:1||\n3:2|3|4\n"},
        {BYTES("a,b\n1,\"ha \"\"ha\"\" ha\"\n3,4\n"),
         "a|b\n2:1|ha \"ha\" ha\n3:3|4\n"},
        {BYTES("key,val\n1,\"{\"\"type\"\": \"\"Point\"\", "
               "\"\"coordinates\"\": [102.0, 0.5]}\"\n"),
         "key|val\n"
         "2:1|{\"type\": \"Point\", \"coordinates\": [102.0, 0.5]}\n"},
        {BYTES("a,b,c\n1,2,3\n\"Once upon \na time\",5,6\n7,8,9\n"),
         "a|b|c\n2:1|2|3\n3:Once upon \na time|5|6\n5:7|8|9\n"},
        {BYTES("a,b,c\r\n1,2,3\r\n\"Once upon \r\na time\",5,6\r\n7,8,9\r\n"),
         "a|b|c\n2:1|2|3\n3:Once upon \r\na time|5|6\n5:7|8|9\n"},
        {BYTES("a,b\n1,\"ha \n\"\"ha\"\" \nha\"\n3,4\n"),
         "a|b\n2:1|ha \n\"ha\" \nha\n5:3|4\n"},
        {BYTES("a,b,c\n1,2,3\n"), "a|b|c\n2:1|2|3\n"},
        {BYTES("a,b,c\r\n1,2,3\r\n"), "a|b|c\n2:1|2|3\n"},
        {BYTES("a,b,c\n1,2,3\n4,5,\xCA\xA4\n"),
         "a|b|c\n2:1|2|3\n3:4|5|\xCA\xA4\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_line_ends(void) {
    static const Sample samples[] = {
        {BYTES("a,b\n1,2\n3,4\n"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r\n1,2\r\n3,4\r\n"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r1,2\r3,4\r"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\n1,2\n3,4"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r\n1,2\r\n3,4"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\r1,2\r3,4"), "a|b\n2:1|2\n3:3|4\n"},
        {BYTES("a,b\n1,2\r\n3,4\r5,6\n"), "a|b\n2:1|2\n3:3|4\n4:5|6\n"},
        {BYTES("a,b\r\r1,2\r"), "a|b\n3:1|2\n"},
        {BYTES("a,b\n\r1,2"), "a|b\n3:1|2\n"},
        {BYTES("a,b\n1,\"2\""), "a|b\n2:1|2\n"},
        {BYTES("a,b\n1,"), "a|b\n2:1|\n"},
        {BYTES("a,b"), "a|b\n"},
        {BYTES("a,b\r\n"), "a|b\n"},
    };
    check_samples(samples, COUNT(samples));
}

/* Line numbers are the editor's, also after line breaks in quotes. */
static void table_quoted_breaks(void) {
    static const Sample samples[] = {
        {BYTES("a,b\n\"x\n\ny\",2\n3,\"\n\"\n5,6\n"),
         "a|b\n2:x\n\ny|2\n5:3|\n\n7:5|6\n"},
        {BYTES("a,b\r\n\"x\r\n\r\ny\",2\r\n3,4\r\n"),
         "a|b\n2:x\r\n\r\ny|2\n5:3|4\n"},
        {BYTES("a,b\r\"x\ry\",2\r3,4\r"), "a|b\n2:x\ry|2\n4:3|4\n"},
        {BYTES("\"a\nb\",c\n1,2\n"), "a\nb|c\n3:1|2\n"},
        {BYTES("\"a\r\nb\";\"c\r\nd\"\r\n1;2\r\n"), "a\r\nb|c\r\nd\n4:1|2\n"},
        {BYTES("a,b\n\"x\n,\"\"\n\",2\n3,4\n"), "a|b\n2:x\n,\"\n|2\n5:3|4\n"},
        {BYTES("a,b\n\"x\n\",\"y\n\"\n3,4\n"), "a|b\n2:x\n|y\n\n5:3|4\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_marks(void) {
    static const Sample samples[] = {
        {BYTES("\xEF\xBB\xBF"
               "a,b\n1,2\n"),
         "a|b\n2:1|2\n"},
        {BYTES("\xEF\xBB\xBF\"a\",b\n1,2\n"), "a|b\n2:1|2\n"},
        {BYTES("sep=;\na,b;c\n1;2\n"), "a,b|c\n3:1|2\n"},
        {BYTES("SEP=\t\r\na;b\tc\r\n1\t2\r\n"), "a;b|c\n3:1|2\n"},
        {BYTES("\xEF\xBB\xBFsep=,\ra;b,c\r1,2\r"), "a;b|c\n3:1|2\n"},
        {BYTES("sep=|\n5\n"), "sep=|\n2:5\n"},
        {BYTES("sep=;x,b\n1,2\n"), "sep=;x|b\n2:1|2\n"},
        {BYTES("a,sep=;\n1,2\n"), "a|sep=;\n2:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

static void table_delimiters(void) {
    static const struct {
        Sample sample;
        bool comma;
    } rows[] = {
        {{BYTES("a,b\n1,2.5\n"), "a|b\n2:1|2.5\n"}, false},
        {{BYTES("a;b\n1;2,5\n"), "a|b\n2:1|2,5\n"}, true},
        {{BYTES("a\tb\tc\n\t2,5\t\n"), "a|b|c\n2:|2,5|\n"}, false},
        {{BYTES("a\n1,\n"), "a\n2:1\n"}, false},
        {{BYTES("sep=;\na\n2,5\n"), "a\n3:2,5\n"}, true},
        {{BYTES("\"x;y;z\",b\n1,2;\n"), "x;y;z|b\n2:1|2;\n"}, false},
        {{BYTES("\"p,q,r\";b\n1;2,5\n"), "p,q,r|b\n2:1|2,5\n"}, true},
        {{BYTES("\"p\n;;q\",b\n1,2\n"), "p\n;;q|b\n3:1|2\n"}, false},
        {{BYTES("\"p\"\"\t;\tq\",b\n1,2\n"), "p\"\t;\tq|b\n2:1|2\n"}, false},
        {{BYTES("\n\na;b\n1;2\n"), "a|b\n4:1|2\n"}, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const Sample *s = &rows[i].sample;
        Reading r = read_bytes(s->bytes, s->length, NULL);
        ASSERT_TEXT(text_of(&r.text), s->wanted);
        check_row(r.decimal_comma == rows[i].comma, "comma?", s->bytes);
        CU_ASSERT_EQUAL(r.notes.count, 0);
        reading_free(&r);
    }
}

static void table_blanks(void) {
    static const Sample samples[] = {
        {BYTES("\n\na,b\n\n1,2\n , \n\"\",\"\"\n\t\n3,4\n\n\n"),
         "a|b\n5:1|2\n9:3|4\n"},
        {BYTES("a,b\r\n\r\n1,2\r\n,\r\n3,4\r\n"), "a|b\n3:1|2\n5:3|4\n"},
        {BYTES("a,b\n,,,,,\n\xC2\xA0,\n3,4\n"), "a|b\n4:3|4\n"},
        {BYTES("a\tb\n\t\n \n1\t2\n"), "a|b\n4:1|2\n"},
        /* blank columns at the end */
        {BYTES("a,b,,\n1,2,,\n3,4\n5,6,,,,,\n7,8, ,\"\"\n"),
         "a|b\n2:1|2\n3:3|4\n4:5|6\n5:7|8\n"},
        {BYTES("a;b;\xC2\xA0; \n1;2;;\n"), "a|b\n2:1|2\n"},
        {BYTES("a,,b\n1,2,3\n"), "a||b\n2:1|2|3\n"},
        {BYTES("a,b\n1,\n,2\n"), "a|b\n2:1|\n3:|2\n"},
        /* blanks around cells go, those in quotes stay */
        {BYTES(" a ,\" b \"\n 1 ,\" 2 \"\n"), "a|b\n2:1| 2 \n"},
        {BYTES("\xC2\xA0"
               "a,b\xC2\xA0\n1,2\n"),
         "a|b\n2:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

/* A row of blank cells is passed over above the header, too. */
static void table_blank_rows_first(void) {
    static const Sample samples[] = {
        {BYTES(",,\na,b,c\n1,2,3\n"), "a|b|c\n3:1|2|3\n"},
        {BYTES("; \n;\na;b\n1;2\n"), "a|b\n4:1|2\n"},
        {BYTES("\"\",\"\"\r\na,b\r\n1,2\r\n"), "a|b\n3:1|2\n"},
    };
    check_samples(samples, COUNT(samples));
}

/* ---- table: trouble ---- */

typedef struct {
    Sample sample;
    size_t line;
    const char *part; /* of the one message */
} Trouble;

static void check_troubles(const Trouble *rows, size_t count) {
    for (size_t i = 0; i < count; i++) {
        const Sample *s = &rows[i].sample;
        Reading r = read_bytes(s->bytes, s->length, NULL);
        ASSERT_TEXT(text_of(&r.text), s->wanted);
        check_row(r.notes.count == 1 && r.notes.errors == 1, "one error",
                  rows[i].part);
        if (r.notes.count > 0) {
            CU_ASSERT_EQUAL(r.notes.items[0].level, LEVEL_ERROR);
            CU_ASSERT_EQUAL(r.notes.items[0].line, rows[i].line);
            ASSERT_TEXT(r.notes.items[0].file, "in.csv");
            ASSERT_HAS(r.notes.items[0].text, rows[i].part);
        }
        CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
        reading_free(&r);
    }
}

static void table_ragged(void) {
    static const Trouble rows[] = {
        {{BYTES("a,b,c\n1,2,3\n4,5\n6,7,8\n"), "a|b|c\n2:1|2|3\n4:6|7|8\n"},
         3,
         "2 cells"},
        {{BYTES("a,b,c\n1,2,3\n4,5\n6,7,8\n"), "a|b|c\n2:1|2|3\n4:6|7|8\n"},
         3,
         "expected 3"},
        {{BYTES("a,b\n1,2,3\n4,5\n"), "a|b\n3:4|5\n"}, 2, "3 cells"},
        {{BYTES("a,b\nmonday,2,,7\n4,5\n"), "a|b\n3:4|5\n"}, 2, "'monday'"},
        {{BYTES("a,b\n\"x\ny\",2\n\"p\nq\"\n4,5"), "a|b\n2:x\ny|2\n6:4|5\n"},
         4,
         "1 cell"},
        {{BYTES("a;b\n1,2\n4;5\n"), "a|b\n3:4|5\n"}, 2, "expected 2"},
    };
    check_troubles(rows, COUNT(rows));
}

static void table_quotes(void) {
    static const Trouble rows[] = {
        {{BYTES("a,b\n1,2\n3,\"x\n5,6\n"), "a|b\n2:1|2\n"}, 3, "never closed"},
        {{BYTES("a,b\n1,\"2"), "a|b\n"}, 2, "never closed"},
        {{BYTES("a,b\n1,\"2\"\""), "a|b\n"}, 2, "never closed"},
        {{BYTES("a,b\r\n1,2\r\n3,4\"5\r\n6,7\r\n"), "a|b\n2:1|2\n"},
         3,
         "quotation mark"},
        {{BYTES("a,b\n1,\"x\"y\n3,4\n"), "a|b\n"}, 2, "quotation mark"},
        {{BYTES("a,b\n1,6\" wide\n"), "a|b\n"}, 2, "like \"\"this\"\""},
        {{BYTES("a,b\"\n1,2\n"), ""}, 1, "quotation mark"},
        {{BYTES("a,\"b\n1,2\n"), ""}, 1, "never closed"},
    };
    check_troubles(rows, COUNT(rows));
}

static void table_bad_bytes(void) {
    static const Trouble rows[] = {
        {{BYTES("a,b\n1,2\n3,\0\n5,6\n"), "a|b\n2:1|2\n"}, 3, "NUL"},
        {{BYTES("a\0,\0b\0\n\0"), ""}, 1, "UTF-16"},
        {{BYTES("sep=\0\na,b\n1,2\n"), ""}, 1, "NUL"},
        {{BYTES("\xFF\xFE"
                "a\0,\0b\0\n\0"),
          ""},
         1,
         "UTF-16"},
        {{BYTES("\xFE\xFF\0a\0,\0b\0\n"), ""}, 1, "UTF-16"},
        {{BYTES("\xFE\xFF\0a\0,\0b\0\n"), ""}, 1, "CSV UTF-8"},
        {{BYTES("a,caf\xE9\n1,2\n"), ""}, 1, "Latin-1"},
        {{BYTES("a,b\n1,2\n\"x\ny\",caf\xE9\n5,6\n"), "a|b\n2:1|2\n"},
         4,
         "CSV UTF-8"},
        {{BYTES("a,b\n1,\xED\xA0\x80\n"), "a|b\n"}, 2, "not UTF-8"},
        {{BYTES("a,b\r1,\xE2\x82\r"), "a|b\n"}, 2, "not UTF-8"},
    };
    check_troubles(rows, COUNT(rows));
}

static void table_empty(void) {
    static const Trouble rows[] = {
        {{BYTES("\n\r\n\r"), ""}, 0, "header"},
        {{BYTES(" \t\n"), ""}, 0, "header"},
        {{BYTES("\xEF\xBB\xBF"), ""}, 0, "header"},
        {{BYTES("sep=;\n"), ""}, 0, "header"},
        {{BYTES("sep=;"), ""}, 0, "header"},
    };
    Reading r;
    check_troubles(rows, COUNT(rows));
    test_folder();
    r = read_path(test_file(0, "empty.csv", ""));
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "empty"));
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
    reading_free(&r);
    test_folder_done();
}

static void table_heading_twice(void) {
    static const Trouble rows[] = {
        {{BYTES("load,date,LOAD\n1,2,3\n"), ""}, 1, "twice"},
        {{BYTES("load,date,LOAD\n1,2,3\n"), ""}, 1, "columns 1 and 3"},
        {{BYTES("\n\nload;date; load \n1;2;3\n"), ""}, 3, "'load'"},
    };
    static const Sample blank = {BYTES("a,,,b\n1,2,3,4\n"),
                                 "a|||b\n2:1|2|3|4\n"};
    check_troubles(rows, COUNT(rows));
    check_samples(&blank, 1); /* columns without a heading may be many */
}

static void check_system(const char *path, const char *part) {
    Reading r = read_path(path);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_EQUAL(r.notes.count, 1);
    if (r.notes.count > 0) {
        ASSERT_TEXT(r.notes.items[0].file, path);
        ASSERT_HAS(r.notes.items[0].text, part);
    }
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_SYSTEM);
    reading_free(&r);
}

static void table_cannot_read(void) {
    char path[400];
    const char *folder = test_folder();
    Notes notes = {0};
    FILE *stream;
    check_system(folder, "folder");
    snprintf(path, sizeof path, "%s/none.csv", folder);
    check_system(path, "No such file");
    stream = fopen(path, "wb"); /* cannot be read from */
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    CU_ASSERT_PTR_NULL(table_open_stream(stream, path, NULL, &notes));
    CU_ASSERT_EQUAL(notes_code(&notes), STATUS_SYSTEM);
    CU_ASSERT_PTR_NOT_NULL(test_note(&notes, "cannot be read"));
    fclose(stream);
    notes_free(&notes);
    test_folder_done();
}

/* Waiting for a pipe that nobody writes to would be for ever: the alarm then
 * ends the tests. */
static void table_named_pipe(void) {
    char path[400];
    snprintf(path, sizeof path, "%s/pipe.csv", test_folder());
    CU_ASSERT_EQUAL_FATAL(mkfifo(path, 0600), 0);
    alarm(60);
    check_system(path, "named pipe");
    alarm(0);
    test_folder_done();
}

/* ---- table: sizes ---- */

/* In large pieces, or valgrind would take minutes over it. */
static void put_many(Text *text, const char *piece, size_t count) {
    char chunk[4096];
    size_t length = strlen(piece), most = sizeof chunk / length;
    for (size_t i = 0; i < most * length; i++)
        chunk[i] = piece[i % length];
    for (; count > most; count -= most)
        text_put(text, chunk, most * length);
    text_put(text, chunk, count * length);
}

/* A cell may have 64 kB and no more; reading goes on after it. */
static void table_long_cell(void) {
    Text text = {0}, wanted = {0};
    Reading r;
    text_add(&text, "a,b\n1,");
    put_many(&text, "x", 65536);
    text_add(&text, "\n3,\"");
    put_many(&text, "y", 65537);
    text_add(&text, "\"\n5,6\n");
    text_add(&wanted, "a|b\n2:1|");
    put_many(&wanted, "x", 65536);
    text_add(&wanted, "\n4:5|6\n");
    r = read_bytes(text.data, text.length, NULL);
    CU_ASSERT(strcmp(text_of(&r.text), wanted.data) == 0);
    CU_ASSERT_EQUAL_FATAL(r.notes.count, 1);
    CU_ASSERT_EQUAL(r.notes.items[0].line, 3);
    ASSERT_HAS(r.notes.items[0].text, "64 kB");
    ASSERT_HAS(r.notes.items[0].text, "'yyyyyyyyyy");
    reading_free(&r);
    text_free(&text);
    text_free(&wanted);
}

/* The message shows the beginning of that cell, not of another. */
static void table_long_cell_shown(void) {
    Text text = {0};
    Reading r;
    text_add(&text, "a,b,c\n");
    put_many(&text, "z", 50);
    text_add(&text, ",");
    put_many(&text, "y", 70000);
    text_add(&text, ",3\n");
    r = read_bytes(text.data, text.length, NULL);
    CU_ASSERT_EQUAL_FATAL(r.notes.count, 1);
    ASSERT_HAS(r.notes.items[0].text, "'yyyyyyyyyy");
    reading_free(&r);
    text_free(&text);
}

static void check_too_big(const Text *text, size_t line, const char *part) {
    Reading r = read_bytes(text->data, text->length, NULL);
    ASSERT_TEXT(text_of(&r.text), "a|b\n2:1|2\n");
    CU_ASSERT_EQUAL(r.notes.count, 1);
    if (r.notes.count > 0) {
        CU_ASSERT_EQUAL(r.notes.items[0].line, line);
        ASSERT_HAS(r.notes.items[0].text, part);
    }
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
    reading_free(&r);
}

static void table_long_heading(void) {
    Text text = {0};
    Reading r;
    text_add(&text, "a,");
    put_many(&text, "h", 65537);
    text_add(&text, "\n1,2\n");
    r = read_bytes(text.data, text.length, NULL);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "a heading over 64 kB"));
    reading_free(&r);
    text_free(&text);
}

/* A line or a row over 1 MB, e.g. after a quotation mark left open. */
static void table_long_rows(void) {
    Text text = {0};
    text_add(&text, "a,b\n1,2\n3,");
    put_many(&text, "x", 1500000);
    text_add(&text, "\n5,6\n");
    check_too_big(&text, 3, "1 MB");
    text_clear(&text);
    text_add(&text, "a,b\n1,2\n3,\"");
    put_many(&text, "some,thing\n", 120000);
    check_too_big(&text, 3, "1 MB");
    text_free(&text);
}

/* The same when the first megabyte ends within a character. */
static void table_long_line_not_latin(void) {
    for (size_t shift = 0; shift < 2; shift++) {
        Text text = {0};
        text_add(&text, "a,b\n1,2\n%s", shift ? "x" : "");
        put_many(&text, "\xC3\xA9", 750000);
        text_add(&text, "\n");
        check_too_big(&text, 3, "1 MB");
        text_free(&text);
    }
}

static void table_widest(void) {
    Text text = {0};
    Reading r;
    for (int i = 1; i <= 4096; i++)
        text_add(&text, "%sc%d", i > 1 ? "," : "", i);
    text_add(&text, "\n");
    r = read_bytes(text.data, text.length, NULL);
    CU_ASSERT_EQUAL(r.notes.count, 0);
    ASSERT_HAS(text_of(&r.text), "c1|c2|c3|");
    ASSERT_HAS(text_of(&r.text), "|c4096\n");
    reading_free(&r);
    text_clear(&text);
    for (int i = 1; i <= 4097; i++)
        text_add(&text, "%sc%d", i > 1 ? "," : "", i);
    r = read_bytes(text.data, text.length, NULL);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "4096"));
    reading_free(&r);
    text_free(&text);
}

/* ---- table: blocks ---- */

/* Row `i` of a made-up file, as it stands there and as it is to be read. Some
 * have a line break, a doubled quotation mark or letters of several bytes.
 * Returns the lines it takes. */
static size_t make_row(Text *file, Text *wanted, size_t i, const char *end) {
    static const char dots[] = "....................................";
    int filler = (int)(i * 7 % 36);
    bool broken = i % 3 == 1;
    text_add(wanted, "%zu|%s\"\xC3\xA9%s%zu|%.*s\n", i, broken ? "x" : "",
             broken ? end : "", i * 31, filler, dots);
    text_add(file, "%zu,\"%s\"\"\xC3\xA9%s%zu\",%.*s%s", i, broken ? "x" : "",
             broken ? end : "", i * 31, filler, dots, end);
    return broken ? 2 : 1;
}

/* `pad` shifts the file against the blocks of 64 KiB. */
static void check_blocks(const char *name, const char *end, int pad) {
    Text file = {0}, wanted = {0};
    size_t line = 2;
    Reading r;
    text_add(&file, "n,%*stext,filler%s", pad, "", end);
    text_add(&wanted, "n|text|filler\n");
    for (size_t i = 0; i < 6000; i++) {
        text_add(&wanted, "%zu:", line);
        line += make_row(&file, &wanted, i, end);
    }
    CU_ASSERT(file.length > 3 * 65536);
    r = read_path(test_file_bytes(0, name, file.data, file.length));
    CU_ASSERT_EQUAL(r.text.length, wanted.length);
    CU_ASSERT(strcmp(text_of(&r.text), text_of(&wanted)) == 0);
    CU_ASSERT_EQUAL(r.notes.count, 0);
    reading_free(&r);
    text_free(&file);
    text_free(&wanted);
}

static void table_many_rows(void) {
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    test_folder();
    for (size_t i = 0; i < COUNT(ends); i++)
        for (int pad = 0; pad < 3; pad++)
            check_blocks("rows.csv", ends[i], pad);
    test_folder_done();
}

/* A file in which `piece` begins `before` bytes ahead of the second block, in a
 * cell within quotation marks if it has such a mark. */
static void check_edge(const char *piece, const char *read, size_t before) {
    Text file = {0}, wanted = {0};
    Reading r;
    text_add(&file, "a,b\n1,2\n");
    text_add(&wanted, "a|b\n2:1|2\n3:%s", strchr(piece, '"') ? "" : "x");
    put_many(&wanted, "x", 65536 - 9 - before);
    text_add(&wanted, "%s\n", read);
    text_add(&file, "%s", strchr(piece, '"') ? "\"" : "x");
    put_many(&file, "x", 65536 - 9 - before);
    CU_ASSERT_EQUAL(file.length + before, 65536);
    text_add(&file, "%s", piece);
    r = read_bytes(file.data, file.length, NULL);
    check_row(r.notes.count == 0 &&
                  strcmp(text_of(&r.text), text_of(&wanted)) == 0,
              "at the edge of a block", read);
    reading_free(&r);
    text_free(&file);
    text_free(&wanted);
}

static void table_block_edges(void) {
    static const struct {
        const char *piece, *read;
    } rows[] = {
        {"\",7\r\n8,9\r\n", "|7\n4:8|9"},
        {"\",7\r\r\n8,9\r\n", "|7\n5:8|9"},
        {"\",7\r8,9\r", "|7\n4:8|9"},
        {"\",7\n8,9", "|7\n4:8|9"},
        {"\r\n\",7\n8,9\n", "\r\n|7\n5:8|9"},
        {"\r\",7\n8,9\n", "\r|7\n5:8|9"},
        {"\"\"y\",7\n8,9\n", "\"y|7\n4:8|9"},
        {"\xE6\x97\xA5\",7\n8,9\n", "\xE6\x97\xA5|7\n4:8|9"},
        {"\xF0\xA3\x8E\xB4\",7\r8,9\n", "\xF0\xA3\x8E\xB4|7\n4:8|9"},
        {"\",7\r", "|7"},
        {"\",7", "|7"},
        {",7\r\n8,9\r\n", "|7\n4:8|9"},
        {",7\r\r\n8,9\r\n", "|7\n5:8|9"},
        {",7\r8,9\r", "|7\n4:8|9"},
        {" , 7 \n\t8,9", "|7\n4:8|9"},
        {",\xE6\x97\xA5\n8,9\n", "|\xE6\x97\xA5\n4:8|9"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        for (size_t before = 0; before < 9; before++)
            check_edge(rows[i].piece, rows[i].read, before);
}

/* ---- table: beside libcsv ---- */

/* How a text is made. */
typedef struct {
    uint64_t *state;
    char delimiter;
    double quotes, trouble; /* how often: cells in quotation marks, no CSV */
} Hard;

static size_t below(const Hard *h, size_t count) {
    return (size_t)(next_random(h->state) * (double)count);
}

static const char *one_of(const Hard *h, const char *const *pieces) {
    size_t count = 0;
    while (pieces[count])
        count++;
    return pieces[below(h, count)];
}

static const char *const hard_ends[] = {
    "\n", "\n", "\r\n", "\r", "\n\n", "\r\r\n", "\n \n", "\r\n\t\r\n", NULL};

static void put_hard_cell(const Hard *h, Text *text) {
    static const char *const pieces[] = {
        "",         "7",        "5.5",    "word",
        " ",        "\t",       "  two ", ",",
        ";",        "\xC3\xA9", "''",     "\xE6\x97\xA5",
        "\xC2\xA0", "\x01",     "\x7F",   "\xF0\xA3\x8E\xB4",
        NULL};
    static const char *const quoted[] = {"",     "a",  " ",        ",",
                                         ";",    "\t", "\"\"",     "\n",
                                         "\r\n", "\r", "\xC3\xA9", NULL};
    static const char *const bad[] = {"\"", "x\"", "\xC3", "\xE9t\xE9", NULL};
    if (next_random(h->state) < h->trouble) {
        text_add(text, "%s", one_of(h, bad));
        if (below(h, 4) == 0)
            text_put(text, "", 1);
    } else if (next_random(h->state) < h->quotes) {
        text_add(text, "%s\"", below(h, 5) ? "" : " ");
        for (size_t i = below(h, 4); i > 0; i--)
            text_add(text, "%s", one_of(h, quoted));
        text_add(text, "\"%s", below(h, 5) ? "" : " \t ");
    } else {
        for (size_t i = below(h, 4); i > 0; i--)
            text_add(text, "%s", one_of(h, pieces));
    }
}

static void put_hard_rows(const Hard *h, Text *text, size_t rows,
                          size_t width) {
    for (size_t i = 0; i < rows; i++) {
        size_t cells = below(h, 8) ? width : 1 + below(h, width + 2);
        for (size_t k = 0; k < cells; k++) {
            if (k > 0)
                text_put(text, &h->delimiter, 1);
            put_hard_cell(h, text);
        }
        if (i + 1 < rows || below(h, 2))
            text_add(text, "%s", one_of(h, hard_ends));
    }
}

/* A cell that ends a few bytes before the end of the first block of
 * 64 KiB or of the second, so that all that follows lies across it. */
static void put_filler(const Hard *h, Text *text) {
    size_t blocks = 1 + below(h, 2);
    for (size_t i = 1; i <= blocks; i++) {
        put_many(text, "x", 65536 * i - text->length - 2 - below(h, 60));
        text_add(text, "%s", one_of(h, hard_ends));
    }
}

static bool same_as_libcsv(const char *bytes, size_t length, char delimiter) {
    Notes notes = {0};
    FILE *stream = fmemopen((void *)(uintptr_t)bytes, length, "rb");
    Table *table = table_open_stream(stream, "in.csv", NULL, &notes);
    const char *differs = NULL;
    if (table)
        differs = reference_compare(table, &notes, delimiter, 2, bytes + 6,
                                    length - 6);
    table_close(table);
    fclose(stream);
    notes_free(&notes);
    check_row(!differs, differs ? differs : "", bytes);
    return !differs;
}

/* Lines that are cut where they stand and lines that libcsv reads, in turn, and
 * at the edges of blocks: the same rows, cells and line numbers as libcsv's. */
static void table_beside_libcsv(void) {
    static const double often[] = {0, 0, .02, .5};
    const char *quick = getenv("PEAKWARD_QUICK");
    uint64_t state = 99;
    bool same = true;
    for (size_t i = quick && *quick ? 4000 : 0; i < 5000 && same; i++) {
        Hard h = {&state, ",;\t"[i % 3], 0, 0};
        Text text = {0};
        size_t width;
        h.quotes = often[below(&h, COUNT(often))];
        h.trouble = below(&h, 4) ? 0 : .02;
        text_add(&text, "sep=%c\n", h.delimiter);
        width = 1 + below(&h, 5);
        put_hard_rows(&h, &text, 1, width);
        text_add(&text, "\n");
        if (i % 16 == 0)
            put_filler(&h, &text);
        put_hard_rows(&h, &text, below(&h, 40), width);
        same = same_as_libcsv(text.data, text.length, h.delimiter);
        text_free(&text);
    }
}

/* ---- table: headings and maps ---- */

static void table_columns(void) {
    char text[] = "Date, Load ,\"two\nlines\",,note\n1,2,3,4,5\n";
    FILE *stream = fmemopen(text, sizeof text - 1, "rb");
    Notes notes = {0};
    Table *table = table_open_stream(stream, "in.csv", NULL, &notes);
    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    CU_ASSERT_EQUAL(table_width(table), 5);
    CU_ASSERT_EQUAL(table_column(table, "date"), 0);
    CU_ASSERT_EQUAL(table_column(table, "LOAD"), 1);
    CU_ASSERT_EQUAL(table_column(table, "two\nlines"), 2);
    CU_ASSERT_EQUAL(table_column(table, "note"), 4);
    CU_ASSERT_EQUAL(table_column(table, "not"), -1);
    ASSERT_TEXT(table_heading(table, 0), "Date");
    ASSERT_TEXT(table_heading_raw(table, 1), "Load");
    ASSERT_TEXT(table_name(table), "in.csv");
    table_close(table);
    table_close(NULL);
    fclose(stream);
    notes_free(&notes);
}

/* Notes after a header of several lines name the right line. */
static void table_header_lines(void) {
    static const Trouble rows[] = {
        {{BYTES("\"a\r\nb\",c\r\n1\r\n"), "a\r\nb|c\n"}, 3, "1 cell"},
        {{BYTES("\n\"a\nb\",\"a\nb\"\n"), ""}, 2, "twice"},
    };
    check_troubles(rows, COUNT(rows));
}

static void maps_parse(void) {
    static const struct {
        const char *text, *ours, *theirs; /* of the last pair */
        size_t count;
    } rows[] = {
        {"date=Datum", "date", "Datum", 1},
        {"date=Datum,load=Belastung", "load", "Belastung", 2},
        {"load=Load\\, total", "load", "Load, total", 1},
        {"load=a\\\\b", "load", "a\\b", 1},
        {"load=a=b", "load", "a=b", 1},
        {"load=Trainings\xC3\xA4quivalent", "load",
         "Trainings\xC3\xA4quivalent", 1},
        {"ignore=x,ignore=y,date=z", "date", "z", 3},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        TableMaps maps = {0};
        CU_ASSERT(table_maps_add(&maps, rows[i].text));
        CU_ASSERT_EQUAL_FATAL(maps.count, rows[i].count);
        ASSERT_TEXT(maps.items[maps.count - 1].ours, rows[i].ours);
        ASSERT_TEXT(maps.items[maps.count - 1].theirs, rows[i].theirs);
        CU_ASSERT_FALSE(maps.items[maps.count - 1].used);
        table_maps_free(&maps);
        CU_ASSERT_EQUAL(maps.count, 0);
    }
}

static void maps_malformed(void) {
    static const char *const rows[] = {
        "",         "date",  "=",      "=Datum", "date=",    "a=b,", ",a=b",
        "a=b,,c=d", "a=b,c", "a=b,=d", "a=b,c=", "load,a=b", "a\\=b"};
    for (size_t i = 0; i < COUNT(rows); i++) {
        TableMaps maps = {0};
        check_row(!table_maps_add(&maps, rows[i]), "malformed", rows[i]);
        table_maps_free(&maps);
    }
}

typedef struct {
    const char *map;
    Sample sample;
    const char *used; /* for each pair: y or n */
} MapRow;

static void check_map(const MapRow *row) {
    TableMaps maps = {0};
    Reading r;
    CU_ASSERT_FATAL(table_maps_add(&maps, row->map));
    r = read_bytes(row->sample.bytes, row->sample.length, &maps);
    ASSERT_TEXT(text_of(&r.text), row->sample.wanted);
    check_row(r.notes.count == 0, "no note", row->map);
    CU_ASSERT_EQUAL(maps.count, strlen(row->used));
    for (size_t i = 0; i < maps.count; i++)
        CU_ASSERT_EQUAL(maps.items[i].used, row->used[i] == 'y');
    reading_free(&r);
    table_maps_free(&maps);
}

static void table_maps(void) {
    static const MapRow rows[] = {
        {"date=Datum,load=Belastung",
         {BYTES("Datum;Belastung\n1;2\n"), "date|load\n2:1|2\n"},
         "yy"},
        {"date=DATUM,load=score",
         {BYTES("datum,load\n1,2\n"), "date|load\n2:1|2\n"},
         "yn"},
        {"load=Load\\, total",
         {BYTES("date,\"load, TOTAL\"\n1,2\n"), "date|load\n2:1|2\n"},
         "y"},
        {"load=two\nlines",
         {BYTES("date,\"two\nlines\"\n1,2\n"), "date|load\n3:1|2\n"},
         "y"},
        {"ignore=note,ignore=spare",
         {BYTES("date,note,Spare\n1,2,3\n"), "date|ignore|ignore\n2:1|2|3\n"},
         "yy"},
        /* the mapped column takes over from the file's own */
        {"load=effort",
         {BYTES("date,load,effort\n1,2,3\n"), "date|ignore|load\n2:1|2|3\n"},
         "y"},
        {"load=effort",
         {BYTES("effort,LOAD,date\n1,2,3\n"), "load|ignore|date\n2:1|2|3\n"},
         "y"},
        /* two columns change places */
        {"a=b,b=a", {BYTES("a,b\n1,2\n"), "b|a\n2:1|2\n"}, "yy"},
        {"load=nothing",
         {BYTES("date,load\n1,2\n"), "date|load\n2:1|2\n"},
         "n"},
    };
    for (size_t i = 0; i < COUNT(rows); i++)
        check_map(&rows[i]);
}

/* Two columns of a file for one of ours is not for us to settle. */
static void table_maps_twice(void) {
    static const char text[] = "kilo,pound,date\n1,2,3\n";
    TableMaps maps = {0};
    Reading r;
    CU_ASSERT_FATAL(table_maps_add(&maps, "load=kilo,load=pound"));
    r = read_bytes(text, sizeof text - 1, &maps);
    ASSERT_TEXT(text_of(&r.text), "");
    CU_ASSERT_PTR_NOT_NULL(test_note(&r.notes, "twice"));
    CU_ASSERT_EQUAL(notes_code(&r.notes), STATUS_DATA);
    reading_free(&r);
    table_maps_free(&maps);
}

/* The raw heading stays what the file says. */
static void table_maps_raw(void) {
    char text[] = "Datum,b\n1,2\n";
    FILE *stream = fmemopen(text, sizeof text - 1, "rb");
    TableMaps maps = {0};
    Notes notes = {0};
    Table *table;
    CU_ASSERT_FATAL(table_maps_add(&maps, "date=datum"));
    table = table_open_stream(stream, "in.csv", &maps, &notes);
    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    ASSERT_TEXT(table_heading(table, 0), "date");
    ASSERT_TEXT(table_heading_raw(table, 0), "Datum");
    CU_ASSERT_EQUAL(table_column(table, "Datum"), -1);
    table_close(table);
    fclose(stream);
    notes_free(&notes);
    table_maps_free(&maps);
}

/* ---- outfile ---- */

static size_t files_in(const char *folder) {
    DIR *directory = opendir(folder);
    struct dirent *entry;
    size_t count = 0;
    CU_ASSERT_PTR_NOT_NULL_FATAL(directory);
    while ((entry = readdir(directory)))
        count += strcmp(entry->d_name, ".") && strcmp(entry->d_name, "..");
    closedir(directory);
    return count;
}

static void check_content(const char *path, const char *wanted) {
    char *content = test_read(path, NULL);
    ASSERT_TEXT(content, wanted);
    free(content);
}

/* A file named plan.csv in a fresh folder, opened over "old 2.385". */
static OutFile *open_over(const char **path, const char **folder) {
    Status status = {0};
    OutFile *file;
    *folder = test_folder();
    *path = test_file(0, "plan.csv", "old 2.385\n");
    file = outfile_open(*path, &status);
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    return file;
}

static void outfile_replaces(void) {
    const char *path, *folder;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    fputs("new 31.7\n", outfile_stream(file));
    fflush(outfile_stream(file));
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 2); /* in the same folder */
    CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_OK);
    CU_ASSERT_EQUAL(status.code, STATUS_OK);
    check_content(path, "new 31.7\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

static void outfile_gives_up(void) {
    const char *path, *folder;
    OutFile *file = open_over(&path, &folder);
    fputs("new 31.7\n", outfile_stream(file));
    outfile_abandon(file);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    outfile_abandon(NULL);
    test_folder_done();
}

static void outfile_leaves_in_a_hurry(void) {
    const char *path, *folder;
    char other[500];
    Status status = {0};
    OutFile *file = open_over(&path, &folder), *second, *done;
    snprintf(other, sizeof other, "%s/done.csv", folder);
    done = outfile_open(other, &status);
    CU_ASSERT_EQUAL(outfile_commit(done, &status), STATUS_OK);
    snprintf(other, sizeof other, "%s/second.csv", folder);
    second = outfile_open(other, &status);
    CU_ASSERT_PTR_NOT_NULL_FATAL(second);
    CU_ASSERT_EQUAL(files_in(folder), 4);
    outfile_abandon_all();
    CU_ASSERT_EQUAL(files_in(folder), 2); /* plan.csv and done.csv */
    check_content(path, "old 2.385\n");
    outfile_abandon(file);
    outfile_abandon(second);
    CU_ASSERT_EQUAL(files_in(folder), 2);
    test_folder_done();
}

/* Files of the scratch folder stay until it goes, also in a hurry, and no other
 * file goes with it. */
static void outfile_scratch_goes(void) {
    Status status = {0};
    char path[500], *before = mem_copy(getenv("TMPDIR"));
    for (int hurry = 0; hurry < 2; hurry++) {
        const char *path_kept, *folder;
        OutFile *kept = open_over(&path_kept, &folder);
        const char *scratch =
            (setenv("TMPDIR", folder, 1), outfile_scratch(&status));
        CU_ASSERT_PTR_NOT_NULL_FATAL(scratch);
        snprintf(path, sizeof path, "%s/map.svg", scratch);
        CU_ASSERT_EQUAL(outfile_commit(outfile_open(path, &status), &status),
                        STATUS_OK);
        CU_ASSERT_EQUAL(files_in(scratch), 1);
        CU_ASSERT_EQUAL(outfile_commit(kept, &status), STATUS_OK);
        CU_ASSERT_EQUAL(files_in(folder), 2);
        if (hurry)
            outfile_abandon_all();
        else
            outfile_scratch_done();
        CU_ASSERT_EQUAL(files_in(folder), 1);
        outfile_scratch_done();
        if (before)
            setenv("TMPDIR", before, 1);
        else
            unsetenv("TMPDIR");
        test_folder_done();
    }
    free(before);
}

static void outfile_other_program(void) {
    const char *path, *folder, *temporary;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    FILE *stream;
    temporary = outfile_hand_over(file);
    CU_ASSERT_PTR_NULL(outfile_stream(file));
    CU_ASSERT_EQUAL(strncmp(temporary, folder, strlen(folder)), 0);
    stream = fopen(temporary, "wb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    fputs("drawn\n", stream);
    fclose(stream);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_OK);
    check_content(path, "drawn\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

/* The other program took the file away. */
static void outfile_taken_away(void) {
    const char *path, *folder;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    unlink(outfile_hand_over(file));
    CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

static void outfile_no_folder(void) {
    Status status = {0};
    char path[500];
    snprintf(path, sizeof path, "%s/none/plan.csv", test_folder());
    CU_ASSERT_PTR_NULL(outfile_open(path, &status));
    CU_ASSERT_EQUAL(status.code, STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    ASSERT_HAS(status.text, "No such file");
    test_folder_done();
}

static void outfile_over_a_folder(void) {
    Status status = {0};
    char path[500];
    const char *folder = test_folder();
    OutFile *file;
    snprintf(path, sizeof path, "%s/plan", folder);
    CU_ASSERT_EQUAL(mkdir(path, 0777), 0);
    file = outfile_open(path, &status);
    if (file)
        outfile_commit(file, &status);
    CU_ASSERT_EQUAL(status.code, STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    CU_ASSERT_EQUAL(files_in(folder), 1);
    CU_ASSERT_EQUAL(files_in(path), 0);
    test_folder_done();
}

/* Writes `length` bytes where no file may grow beyond `limit`, which fails
 * like a full disk. `freed`: there is room again before the file is closed. */
static void check_full(size_t length, rlim_t limit, bool freed) {
    const char *path, *folder;
    Status status = {0};
    OutFile *file = open_over(&path, &folder);
    struct rlimit before, small;
    struct sigaction ignore = {.sa_handler = SIG_IGN}, usual;
    CU_ASSERT_EQUAL_FATAL(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = (struct rlimit){limit, before.rlim_max};
    sigaction(SIGXFSZ, &ignore, &usual);
    CU_ASSERT_EQUAL_FATAL(setrlimit(RLIMIT_FSIZE, &small), 0);
    for (size_t i = 0; i < length; i++)
        putc('x', outfile_stream(file));
    if (freed)
        setrlimit(RLIMIT_FSIZE, &before);
    outfile_commit(file, &status);
    setrlimit(RLIMIT_FSIZE, &before);
    sigaction(SIGXFSZ, &usual, NULL);
    CU_ASSERT_EQUAL(status.code, STATUS_SYSTEM);
    ASSERT_HAS(status.text, path);
    check_content(path, "old 2.385\n");
    CU_ASSERT_EQUAL(files_in(folder), 1);
    test_folder_done();
}

static void outfile_full_disk(void) {
    check_full(300000, 100000, false); /* while writing */
    check_full(300000, 100000, true);
    check_full(700, 500, false); /* only when the last buffer is written */
}

static void outfile_mode(void) {
    static const mode_t masks[] = {0, 022, 027, 077};
    mode_t usual = umask(0);
    for (size_t i = 0; i < COUNT(masks); i++) {
        Status status = {0};
        struct stat about = {0};
        char path[500];
        OutFile *file;
        umask(022);
        snprintf(path, sizeof path, "%s/plan.csv", test_folder());
        umask(masks[i]);
        file = outfile_open(path, &status);
        CU_ASSERT_PTR_NOT_NULL_FATAL(file);
        CU_ASSERT_EQUAL(outfile_commit(file, &status), STATUS_OK);
        CU_ASSERT_EQUAL(stat(path, &about), 0);
        CU_ASSERT_EQUAL(about.st_mode & 07777, 0666 & ~masks[i]);
        CU_ASSERT_EQUAL(umask(usual), masks[i]); /* left as it was */
        test_folder_done();
    }
    umask(usual);
}

static bool is_folder(const char *path) {
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static void make_folder_nested(void) {
    static const char *const tails[] = {"/a/b/c", "/a/b/c", "/d/", "/e//f", ""};
    const char *folder = test_folder();
    for (size_t i = 0; i < COUNT(tails); i++) {
        Status status = {0};
        char path[500];
        snprintf(path, sizeof path, "%s%s", folder, tails[i]);
        CU_ASSERT_EQUAL(outfile_make_folder(path, &status), STATUS_OK);
        check_row(is_folder(path), status.text, path);
    }
    CU_ASSERT_EQUAL(files_in(folder), 3); /* a, d and e */
    test_folder_done();
}

static void make_folder_over_a_file(void) {
    static const char *const tails[] = {"", "/", "/sub", "/sub/sub"};
    const char *file;
    test_folder();
    file = test_file(0, "plan", "2.385\n");
    for (size_t i = 0; i < COUNT(tails); i++) {
        Status status = {0};
        char path[700];
        snprintf(path, sizeof path, "%s%s", file, tails[i]);
        CU_ASSERT_EQUAL(outfile_make_folder(path, &status), STATUS_SYSTEM);
        ASSERT_HAS(status.text, file);
    }
    check_content(file, "2.385\n");
    test_folder_done();
}

static void make_folder_without_name(void) {
    Status status = {0};
    CU_ASSERT_EQUAL(outfile_make_folder("", &status), STATUS_SYSTEM);
    status = (Status){0};
    CU_ASSERT_EQUAL(outfile_make_folder("/", &status), STATUS_OK);
    CU_ASSERT_EQUAL(outfile_make_folder(".", &status), STATUS_OK);
}

/* ---- mem ---- */

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

/* ---- home ---- */

/* Also without the variable the files beside the build are found. */
static void home_folders(void) {
    const char *kept = getenv("PEAKWARD_HOME");
    char *usual = mem_copy(kept), *path;
    setenv("PEAKWARD_HOME", "/odd place", 1);
    path = home_folder("models");
    ASSERT_TEXT(path, "/odd place/models");
    free(path);
    for (int empty = 0; empty < 2; empty++) {
        Text file = {0};
        if (empty)
            setenv("PEAKWARD_HOME", "", 1);
        else
            unsetenv("PEAKWARD_HOME");
        path = home_folder("models");
        text_add(&file, "%s/literature.csv", path);
        check_row(access(text_of(&file), R_OK) == 0, "found", text_of(&file));
        free(path);
        text_free(&file);
        path = home_folder("plots");
        check_row(is_folder(path), "found", path);
        free(path);
    }
    if (usual)
        setenv("PEAKWARD_HOME", usual, 1);
    else
        unsetenv("PEAKWARD_HOME");
    free(usual);
}

/* ---- all of them ---- */

static const TestCase cases[] = {
    {"number_accepts", number_accepts},
    {"number_refuses", number_refuses},
    {"number_ambiguous", number_ambiguous},
    {"number_write_reads_back", number_write_reads_back},
    {"number_digits", number_digits},
    {"number_write_words", number_write_words},
    {"number_whole", number_whole},
    {"date_known_days", date_known_days},
    {"date_no_such_day", date_no_such_day},
    {"date_roundtrip", date_roundtrip},
    {"date_names", date_names},
    {"date_orders", date_orders},
    {"date_refuses", date_refuses},
    {"date_names_the_option", date_names_the_option},
    {"date_serial", date_serial},
    {"time_of_day", time_of_day},
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
    {"stream_keeps_all", stream_keeps_all},
    {"text_is_shown", text_is_shown},
    {"text_with_controls", text_with_controls},
    {"text_grows", text_grows},
    {"status_keeps_the_first", status_keeps_the_first},
    {"status_cuts", status_cuts},
    {"level_words", level_words},
    {"notes_codes", notes_codes},
    {"notes_keep_places", notes_keep_places},
    {"notes_repeats", notes_repeats},
    {"notes_sorts", notes_sorts},
    {"notes_many_sorts", notes_many_sorts},
    {"notes_dropping", notes_dropping},
    {"notes_moving", notes_moving},
    {"table_csv_spectrum", table_csv_spectrum},
    {"table_beside_libcsv", table_beside_libcsv},
    {"table_line_ends", table_line_ends},
    {"table_quoted_breaks", table_quoted_breaks},
    {"table_marks", table_marks},
    {"table_delimiters", table_delimiters},
    {"table_blanks", table_blanks},
    {"table_blank_rows_first", table_blank_rows_first},
    {"table_ragged", table_ragged},
    {"table_quotes", table_quotes},
    {"table_bad_bytes", table_bad_bytes},
    {"table_empty", table_empty},
    {"table_heading_twice", table_heading_twice},
    {"table_cannot_read", table_cannot_read},
    {"table_named_pipe", table_named_pipe},
    {"table_long_cell", table_long_cell},
    {"table_long_cell_shown", table_long_cell_shown},
    {"table_long_heading", table_long_heading},
    {"table_long_rows", table_long_rows},
    {"table_long_line_not_latin", table_long_line_not_latin},
    {"table_widest", table_widest},
    {"table_many_rows", table_many_rows},
    {"table_block_edges", table_block_edges},
    {"table_columns", table_columns},
    {"table_header_lines", table_header_lines},
    {"maps_parse", maps_parse},
    {"maps_malformed", maps_malformed},
    {"table_maps", table_maps},
    {"table_maps_twice", table_maps_twice},
    {"table_maps_raw", table_maps_raw},
    {"outfile_replaces", outfile_replaces},
    {"outfile_gives_up", outfile_gives_up},
    {"outfile_leaves_in_a_hurry", outfile_leaves_in_a_hurry},
    {"outfile_scratch_goes", outfile_scratch_goes},
    {"outfile_other_program", outfile_other_program},
    {"outfile_taken_away", outfile_taken_away},
    {"outfile_no_folder", outfile_no_folder},
    {"outfile_over_a_folder", outfile_over_a_folder},
    {"outfile_full_disk", outfile_full_disk},
    {"outfile_mode", outfile_mode},
    {"make_folder_nested", make_folder_nested},
    {"make_folder_over_a_file", make_folder_over_a_file},
    {"make_folder_without_name", make_folder_without_name},
    {"mem_grows", mem_grows},
    {"mem_makes", mem_makes},
    {"mem_overflows", mem_overflows},
    {"home_folders", home_folders},
    {NULL, NULL}};

const TestSuite suite_base = {"base", cases};
