/* date: days are counted by the C library's gmtime_r() too.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/date.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

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

static const TestCase cases[] = {
    {"date_known_days", date_known_days},
    {"date_no_such_day", date_no_such_day},
    {"date_roundtrip", date_roundtrip},
    {"date_names", date_names},
    {"date_orders", date_orders},
    {"date_refuses", date_refuses},
    {"date_names_the_option", date_names_the_option},
    {"date_serial", date_serial},
    {"time_of_day", time_of_day},
    {NULL, NULL}};

const TestSuite suite_base_date = {"base", cases};
