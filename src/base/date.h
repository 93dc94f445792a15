/* date: calendar days as whole numbers, and clock times.
 *
 * A Date counts days from 1970-01-01 in the proleptic Gregorian calendar
 * (ISO 8601), so that the difference of two is a number of days and no time
 * zone or summer time can reach it. Years 1900 to 2199.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef BASE_DATE_H
#define BASE_DATE_H

#include <limits.h>
#include <stdbool.h>

typedef int Date; /* [d] days since 1970-01-01 */

#define DATE_NONE INT_MIN

typedef struct {
    int year, month, day; /* month 1-12, day 1-31 */
} Civil;

/* How dates in a file are written. ISO 8601 is always read. */
typedef enum { DATES_ISO, DATES_DMY, DATES_MDY } DateOrder;

/* DATE_NONE when there is no such day or the year is out of range. */
Date date_of(Civil civil);
Civil date_civil(Date date);

/* 0 Monday ... 6 Sunday. */
int date_weekday(Date date);
/* "Mon" ... "Sun"; "Jan" ... "Dec". */
const char *date_weekday_name(int weekday);
const char *date_month_name(int month);

enum { DATE_WHY = 160 };

/* Reads a date. On failure returns false and fills `why` with what was
 * expected, as the end of a sentence that begins "expected ". */
bool date_read(const char *text, DateOrder order, Date *date,
               char why[DATE_WHY]);

enum { DATE_TEXT = 16 };

/* ISO 8601, "2026-03-09"; empty for DATE_NONE. Returns `buffer`. */
const char *date_write(char buffer[DATE_TEXT], Date date);
/* For people: "Sat 25 Apr". Returns `buffer`. */
const char *date_write_short(char buffer[DATE_TEXT], Date date);

/* Reads HH:MM (or H:MM, or HH:MM:SS with whole minutes kept) into minutes
 * after midnight. */
bool time_read(const char *text, int *minute);

#endif
