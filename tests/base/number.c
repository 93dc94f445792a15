/* number: numbers are read by the C compiler too.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/number.h"

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

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

/* By hand: at most one value in four is a new one, or it is no scale. */
static void number_step_of_scales(void) {
    static const double answers[] = {3, 2, 3, 3, 4, 2, 3, 4, 3, 3, 2, 4};
    static const double halves[] = {1.5, 1, 1, 1.5, 1, 1, 1, 1.5};
    CU_ASSERT_EQUAL(number_step(answers, 12), 1);
    CU_ASSERT_EQUAL(number_step(answers, 11), 0); /* 3 of 11 */
    CU_ASSERT_EQUAL(number_step(halves, 8), .5);
    CU_ASSERT_EQUAL(number_step(halves, 7), 0);
    CU_ASSERT_EQUAL(number_step(halves + 4, 3), 0); /* all alike */
    CU_ASSERT_EQUAL(number_step(NULL, 0), 0);
}

static const TestCase cases[] = {
    {"number_accepts", number_accepts},
    {"number_refuses", number_refuses},
    {"number_ambiguous", number_ambiguous},
    {"number_write_reads_back", number_write_reads_back},
    {"number_digits", number_digits},
    {"number_write_words", number_write_words},
    {"number_whole", number_whole},
    {"number_step_of_scales", number_step_of_scales},
    {NULL, NULL}};

const TestSuite suite_base_number = {"base", cases};
