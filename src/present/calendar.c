/* calendar: see calendar.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/calendar.h"

#include "base/clock.h"
#include "base/text.h"

#include <string.h>
#include <time.h>

enum { FOLD = 75 /* [octets] of a line without its end */ };

/* A line, folded; a continuation begins with a blank. */
static void put_line(FILE *to, const char *line) {
    size_t used = 0;
    while (*line) {
        size_t length = 1;
        while (length < 4 && ((unsigned char)line[length] & 0xc0) == 0x80)
            length++;
        if (used + length > FOLD) {
            fputs("\r\n ", to);
            used = 1;
        }
        fwrite(line, 1, length, to);
        used += length;
        line += length;
    }
    fputs("\r\n", to);
}

/* In the value of a property. */
static const char *escape(char c) {
    switch (c) {
    case '\\':
        return "\\\\";
    case ';':
        return "\\;";
    case ',':
        return "\\,";
    case '\n':
        return "\\n";
    default:
        return ((unsigned char)c < ' ' || c == 0x7f) ? "" : NULL;
    }
}

static void put_text(FILE *to, const char *property, const char *text) {
    Text line = {0};
    text_add(&line, "%s:", property);
    text_escape(&line, text, escape);
    put_line(to, text_of(&line));
    text_free(&line);
}

/* When the file is written, in UTC. */
static void put_stamp(FILE *to) {
    struct tm utc;
    char stamp[40];
    time_t now;
    Status status = {0};
    if (clock_now(&now, &status) != STATUS_OK || !gmtime_r(&now, &utc))
        return;
    strftime(stamp, sizeof stamp, "DTSTAMP:%Y%m%dT%H%M%SZ", &utc);
    put_line(to, stamp);
}

static void put_day(FILE *to, const char *property, Date date) {
    Civil c = date_civil(date);
    char line[64];
    snprintf(line, sizeof line, "%s;VALUE=DATE:%04d%02d%02d", property, c.year,
             c.month, c.day);
    put_line(to, line);
}

static void put_moment(FILE *to, const char *property, Date date, int minute) {
    Civil c = date_civil(date + minute / 1440);
    char line[64];
    minute %= 1440;
    snprintf(line, sizeof line, "%s:%04d%02d%02dT%02d%02d00", property, c.year,
             c.month, c.day, minute / 60, minute % 60);
    put_line(to, line);
}

void calendar_begin(FILE *to, const char *name) {
    put_line(to, "BEGIN:VCALENDAR");
    put_line(to, "VERSION:2.0");
    put_line(to, "PRODID:-//peakward//plan//EN");
    put_line(to, "CALSCALE:GREGORIAN");
    put_line(to, "METHOD:PUBLISH");
    put_text(to, "NAME", name); /* RFC 7986 */
}

void calendar_entry(FILE *to, const CalendarEntry *e) {
    put_line(to, "BEGIN:VEVENT");
    put_text(to, "UID", e->id);
    put_stamp(to);
    if (e->minute < 0) {
        put_day(to, "DTSTART", e->date);
        put_day(to, "DTEND", e->date + e->days);
    } else {
        put_moment(to, "DTSTART", e->date, e->minute);
        if (e->minutes > 0)
            put_moment(to, "DTEND", e->date, e->minute + e->minutes);
    }
    put_text(to, "SUMMARY", e->title);
    if (e->text && *e->text)
        put_text(to, "DESCRIPTION", e->text);
    put_line(to, "TRANSP:OPAQUE");
    put_line(to, "END:VEVENT");
}

void calendar_end(FILE *to) {
    put_line(to, "END:VCALENDAR");
}
