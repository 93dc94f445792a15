/* calendar: a file that calendar programs read (RFC 5545, iCalendar).
 *
 * Lines end with CRLF and are folded at 75 octets, never inside a character;
 * text is escaped; control characters, and those that turn the direction of
 * text, are left out. Days are local dates, clock
 * times are floating: 9:00 wherever one is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_CALENDAR_H
#define PRESENT_CALENDAR_H

#include "base/date.h"

#include <stdio.h>

typedef struct {
    Date date;
    int minute;  /* [min after midnight] -1: all day */
    int minutes; /* [min] how long; 0: not known; all-day entries: not used */
    int days;    /* [d] of an all-day entry, 1 or more */
    const char *title, *text;
    const char *id; /* the same at each writing, different for each entry */
} CalendarEntry;

/* `name` of the calendar. The stamp is the time of writing, or that of
 * SOURCE_DATE_EPOCH [s since 1970] if it is set; whoever writes calendars asks
 * clock_now() before, whether that can be read. */
void calendar_begin(FILE *to, const char *name);
void calendar_entry(FILE *to, const CalendarEntry *entry);
void calendar_end(FILE *to);

#endif
