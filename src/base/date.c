/* date: see date.h. date_civil() follows the era arithmetic that counts years
 * from March, as usual in calendar code; it is exact for every year.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/date.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

enum { FIRST_YEAR = 1900, LAST_YEAR = 2199 };

static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu",
                                       "Fri", "Sat", "Sun"};
static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                     "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

/* Days of a common year before each month. */
static const int days_before[] = {0,   31,  59,  90,  120, 151, 181,
                                  212, 243, 273, 304, 334, 365};

static bool is_leap(int year) {
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

Date date_of(Civil c) {
    int leap, length, past = c.year - 1;
    if (c.year < FIRST_YEAR || c.year > LAST_YEAR || c.month < 1 ||
        c.month > 12)
        return DATE_NONE;
    leap = is_leap(c.year);
    length = days_before[c.month] - days_before[c.month - 1] +
             (c.month == 2 ? leap : 0);
    if (c.day < 1 || c.day > length)
        return DATE_NONE;
    /* 477 leap days before 1970 */
    return 365 * (c.year - 1970) + past / 4 - past / 100 + past / 400 - 477 +
           days_before[c.month - 1] + (c.month > 2 ? leap : 0) + c.day - 1;
}

Civil date_civil(Date date) {
    int days = date + 719468;
    int era = days / 146097;
    int doe = days - era * 146097;
    int yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
    int doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    int mp = (5 * doy + 2) / 153;
    Civil c;
    c.day = doy - (153 * mp + 2) / 5 + 1;
    c.month = mp + (mp < 10 ? 3 : -9);
    c.year = yoe + era * 400 + (c.month <= 2);
    return c;
}

int date_weekday(Date date) {
    return ((date + 3) % 7 + 7) % 7; /* 1970-01-01 was a Thursday */
}

const char *date_weekday_name(int weekday) {
    return weekdays[weekday];
}

const char *date_month_name(int month) {
    return months[month - 1];
}

/* Three whole numbers with one and the same separator between them. */
typedef struct {
    int part[3];
    int digits[3];
    char separator;
} Parts;

static bool split(const char *s, Parts *parts) {
    for (int i = 0; i < 3; i++) {
        parts->part[i] = 0;
        parts->digits[i] = 0;
        while (*s >= '0' && *s <= '9' && parts->digits[i] < 5) {
            parts->part[i] = parts->part[i] * 10 + (*s++ - '0');
            parts->digits[i]++;
        }
        if (parts->digits[i] == 0)
            return false;
        if (i == 0) {
            parts->separator = *s;
            if (*s != '-' && *s != '/' && *s != '.')
                return false;
            s++;
        } else if (i == 1 && *s++ != parts->separator) {
            return false;
        }
    }
    return *s == '\0';
}

/* A spreadsheet's day number: day N is 1899-12-30 + N from N = 61 on. */
static bool serial(const char *s, char why[DATE_WHY]) {
    char iso[DATE_TEXT];
    int number = 0;
    size_t digits = strspn(s, "0123456789");
    if (digits < 5 || digits > 6 || s[digits] != '\0')
        return false;
    for (; *s; s++)
        number = number * 10 + (*s - '0');
    if (number < 61 || number > 109574)
        return false;
    date_write(iso, date_of((Civil){1899 + 1, 1, 1}) - 2 + number);
    snprintf(why, DATE_WHY,
             "a date like 2026-03-09; this looks like a spreadsheet's day "
             "number (%s): format the column as YYYY-MM-DD and export again",
             iso);
    return true;
}

static bool fail(char why[DATE_WHY], const char *text) {
    snprintf(why, DATE_WHY, "%s", text);
    return false;
}

/* Which of the three parts is what. */
static bool arrange(const Parts *p, DateOrder order, Civil *civil,
                    char why[DATE_WHY]) {
    if (p->digits[0] == 4 && p->separator == '-' && p->digits[1] == 2 &&
        p->digits[2] == 2) {
        *civil = (Civil){p->part[0], p->part[1], p->part[2]};
        return true;
    }
    if (p->digits[0] == 4)
        return fail(why, "a date as YYYY-MM-DD, like 2026-03-09");
    if (order == DATES_ISO)
        return fail(why, "a date as YYYY-MM-DD; for other orders say --dates "
                         "dmy (day first) or --dates mdy (month first)");
    if (p->digits[0] > 2 || p->digits[1] > 2 || p->digits[2] != 4)
        return fail(why, "a date with the year in four digits, like 9/3/2026");
    if (order == DATES_DMY)
        *civil = (Civil){p->part[2], p->part[1], p->part[0]};
    else
        *civil = (Civil){p->part[2], p->part[0], p->part[1]};
    return true;
}

bool date_read(const char *text, DateOrder order, Date *date,
               char why[DATE_WHY]) {
    char copy[DATE_TEXT + 8];
    size_t length;
    const char *start;
    Parts parts;
    Civil civil;
    start = text_trim(text, &length);
    if (length == 0 || length >= sizeof copy)
        return fail(why, "a date as YYYY-MM-DD, like 2026-03-09");
    memcpy(copy, start, length);
    copy[length] = '\0';
    if (serial(copy, why))
        return false;
    if (!split(copy, &parts))
        return fail(why, "a date as YYYY-MM-DD, like 2026-03-09");
    if (!arrange(&parts, order, &civil, why))
        return false;
    *date = date_of(civil);
    if (*date != DATE_NONE)
        return true;
    if (order == DATES_DMY && civil.month > 12 && civil.day <= 12)
        return fail(why, "a day that exists, day first; this looks like month "
                         "first: --dates mdy");
    if (order == DATES_MDY && civil.month > 12 && civil.day <= 12)
        return fail(why, "a day that exists, month first; this looks like day "
                         "first: --dates dmy");
    return fail(why, "a day that exists, in the years 1900 to 2199");
}

const char *date_write(char buffer[DATE_TEXT], Date date) {
    Civil c;
    buffer[0] = '\0';
    if (date == DATE_NONE)
        return buffer;
    c = date_civil(date);
    snprintf(buffer, DATE_TEXT, "%04d-%02d-%02d", c.year % 10000, c.month % 100,
             c.day % 100);
    return buffer;
}

const char *date_write_short(char buffer[DATE_TEXT], Date date) {
    Civil c = date_civil(date);
    snprintf(buffer, DATE_TEXT, "%s %d %s", weekdays[date_weekday(date)],
             c.day % 100, months[c.month - 1]);
    return buffer;
}

bool time_read(const char *text, int *minute) {
    size_t length;
    const char *s = text_trim(text, &length);
    int part[3] = {0, 0, 0}, parts = 0;
    const char *end = s + length;
    while (parts < 3) {
        int digits = 0;
        while (s < end && *s >= '0' && *s <= '9' && digits < 3) {
            part[parts] = part[parts] * 10 + (*s++ - '0');
            digits++;
        }
        if (digits < 1 || digits > 2 || (parts > 0 && digits != 2))
            return false;
        parts++;
        if (s == end)
            break;
        if (*s++ != ':')
            return false;
    }
    if (parts < 2 || s != end || part[0] > 23 || part[1] > 59 || part[2] > 59)
        return false;
    *minute = part[0] * 60 + part[1];
    return true;
}
