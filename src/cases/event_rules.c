/* event_rules: see event_rules.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/event_rules.h"

enum { MOST_A_DAY = 2, LEAST_REST = 4 * 60, LEAST_NIGHT = 12 * 60 };

static void warn(const Season *s, const Event *event, Notes *notes,
                 const Text *text) {
    Text path = {0};
    Place place = {NULL, event->line, "event"};
    char shown[TEXT_EXCERPT];
    season_file(s, "events", &path);
    place.file = text_of(&path);
    notes_add(notes, LEVEL_WARNING, place, "%s: %s",
              text_excerpt(shown, event->name), text_of(text));
    notes_about(notes, event->name, NULL);
    text_free(&path);
}

/* "3 h", "3 h 30 min", "45 min". */
static void add_time(Text *text, int minutes) {
    if (minutes >= 60)
        text_add(text, "%d h%s", minutes / 60, minutes % 60 ? " " : "");
    if (minutes < 60 || minutes % 60)
        text_add(text, "%d min", minutes % 60);
}

static void add_clock(Text *text, int minute) {
    text_add(text, "%02d:%02d", minute / 60, minute % 60);
}

/* What is said of times that nobody gave. */
static void add_taken(Text *text, const Event *event, bool starts) {
    if (starts && event_minutes_taken(event))
        text_add(text, " (only the first start_time is given)");
    if (!event->session_minutes)
        text_add(text,
                 " if a session lasts %d min (no session_minutes is given)",
                 EVENT_MINUTES);
}

static void warn_of_count(const Season *s, const Event *event, Notes *notes) {
    Text text = {0};
    if (event->sessions_per_day > MOST_A_DAY) {
        text_add(&text,
                 "%d sessions a day, more than the two a day commonly held to "
                 "be the most (common practice, no source)",
                 event->sessions_per_day);
        warn(s, event, notes, &text);
    }
    text_free(&text);
}

/* The shortest rest between two sessions of a day. */
static void warn_of_rest(const Season *s, const Event *event, Notes *notes) {
    int minute[EVENT_SESSIONS], count = event_minutes(event, minute);
    int at = 0, least = LEAST_REST;
    Text text = {0};
    for (int i = 1; i < count; i++) {
        int rest = minute[i] - minute[i - 1] - event_session_minutes(event);
        if (rest < least) {
            least = rest;
            at = i;
        }
    }
    if (at > 0 && least > 0) {
        add_time(&text, least);
        text_add(&text, " of rest between the sessions at ");
        add_clock(&text, minute[at - 1]);
        text_add(&text, " and ");
        add_clock(&text, minute[at]);
        add_taken(&text, event, true);
        text_add(&text, ", under the four hours commonly held to be the least "
                        "(common practice, no source)");
    } else if (at > 0) {
        text_add(&text, "the session at ");
        add_clock(&text, minute[at - 1]);
        text_add(&text, " has not ended when the next begins at ");
        add_clock(&text, minute[at]);
        add_taken(&text, event, true);
    }
    if (at > 0)
        warn(s, event, notes, &text);
    text_free(&text);
}

static void warn_of_night(const Season *s, const Event *event, Notes *notes) {
    int minute[EVENT_SESSIONS], count = event_minutes(event, minute);
    int end = minute[count - 1] + event_session_minutes(event);
    int night = 24 * 60 - end + minute[0];
    Text text = {0};
    if (event->days > 1 && minute[0] >= 0 && night < LEAST_NIGHT) {
        if (night > 0)
            add_time(&text, night);
        else
            text_add(&text, "no time");
        text_add(&text, " from the end of one day's last session to ");
        add_clock(&text, minute[0]);
        text_add(&text, " the next day");
        add_taken(&text, event, true);
        text_add(&text, ", under the twelve hours overnight commonly held to "
                        "be the least (common practice, no source)");
        warn(s, event, notes, &text);
    }
    text_free(&text);
}

static void warn_of_heat(const Season *s, const Event *event, Notes *notes) {
    Text text = {0};
    if (event->sessions_per_day < 2)
        return;
    text_add(&text,
             "%d sessions a day in heat: on the first five days of hot-weather "
             "training one session a day, so do this only with athletes who "
             "have had those days",
             event->sessions_per_day);
    if (event->days > 1)
        text_add(&text,
                 "; and a day with one session has to follow one with two, "
                 "which %d such days in a row do not allow",
                 event->days);
    text_add(&text, " (common practice, no source). Heat illness can kill: "
                    "shade, water, breaks, and the physician's and the "
                    "venue's rules come first");
    warn(s, event, notes, &text);
    text_free(&text);
}

void event_rules_warn(const Season *s, const Event *event, bool heat,
                      Notes *notes) {
    warn_of_count(s, event, notes);
    warn_of_rest(s, event, notes);
    warn_of_night(s, event, notes);
    if (heat)
        warn_of_heat(s, event, notes);
}
