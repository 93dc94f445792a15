/* calendar: what Debian's icalendar, a parser of RFC 5545, reads of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "printed.h"
#include "test.h"

#include "base/text.h"
#include "present/calendar.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char odd_text[] =
    "Gym; A, \\ back\nslash \"q\" \xF0\x9F\x98\x80 \xD7\xA9\xD7\x9C "
    "BEGIN:VEVENT\r\nand so on and on and on, \xC5\x81\xC5\x81\xC5\x81\xC5\x81"
    "\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81\xC5\x81 to the "
    "end";

static void print_calendar(FILE *to) {
    CalendarEntry day = {.date = date_of((Civil){2026, 12, 31}),
                         .minute = -1,
                         .days = 2,
                         .title = odd_text,
                         .text = odd_text,
                         .id = "one@peakward"};
    CalendarEntry hour = {.date = date_of((Civil){2026, 3, 9}),
                          .minute = 23 * 60 + 30,
                          .minutes = 75,
                          /* a next-line (U+0085) and an override of
                             direction (U+202E) are left out */
                          .title = "la\xC2\x85\xE2\x80\xAEte",
                          .text = "",
                          .id = "two@peakward"};
    calendar_begin(to, "wing-07: cup, \x01"
                       "1");
    calendar_entry(to, &day);
    calendar_entry(to, &hour);
    hour.minutes = 0; /* not known: no end is told */
    hour.id = "three@peakward";
    calendar_entry(to, &hour);
    calendar_end(to);
}

/* Lines end with CRLF, hold at most 75 octets and only whole characters. */
static void check_lines(const char *text) {
    while (*text) {
        size_t length = strcspn(text, "\r\n");
        CU_ASSERT(length <= 75);
        CU_ASSERT_FATAL(text[length] == '\r' && text[length + 1] == '\n');
        CU_ASSERT(utf8_check(text, length) == length);
        text += length + 2;
    }
}

/* What Debian's icalendar, a parser of RFC 5545, reads. */
static const char read_calendar[] =
    "import sys, icalendar\n"
    "c = icalendar.Calendar.from_ical(sys.argv[1])\n"
    "print(ascii(str(c['NAME'])))\n"
    "for e in c.walk('VEVENT'):\n"
    "    print(e['UID'], e.decoded('DTSTAMP').isoformat(),\n"
    "          e.decoded('DTSTART').isoformat(),"
    " e.decoded('DTEND').isoformat() if 'DTEND' in e else 'open')\n"
    "    print(ascii(str(e['SUMMARY'])))\n"
    "    print(str(e.get('DESCRIPTION', '')) == str(e['SUMMARY']))\n";

static void calendar_file(void) {
    char *text, *read;
    setenv("SOURCE_DATE_EPOCH", "1767225600", 1); /* 2026-01-01 */
    text = printed(print_calendar);
    unsetenv("SOURCE_DATE_EPOCH");
    check_lines(text);
    read = test_python(read_calendar, (const char *[]){text, NULL});
    ASSERT_TEXT(
        read,
        "'wing-07: cup, 1'\n"
        "one@peakward 2026-01-01T00:00:00+00:00 2026-12-31 2027-01-02\n"
        "'Gym; A, \\\\ back\\nslash \"q\" \\U0001f600 \\u05e9\\u05dc "
        "BEGIN:VEVENT\\nand so on and on and on, "
        "\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141\\u0141"
        "\\u0141\\u0141 to the end'\nTrue\n"
        "two@peakward 2026-01-01T00:00:00+00:00 2026-03-09T23:30:00 "
        "2026-03-10T00:45:00\n'late'\nFalse\n"
        "three@peakward 2026-01-01T00:00:00+00:00 2026-03-09T23:30:00 open\n"
        "'late'\nFalse\n");
    free(text);
    free(read);
}

static const TestCase cases[] = {{"calendar_file", calendar_file},
                                 {NULL, NULL}};

const TestSuite suite_present_calendar = {"present", cases};
