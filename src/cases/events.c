/* events: see events.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/events.h"

#include <stdio.h>

static void list_events(const Season *s, Text *list) {
    char shown[TEXT_EXCERPT], day[DATE_TEXT];
    for (size_t i = 0; i < s->event_count && i < 8; i++)
        text_add(list, "%s%s (%s)", i ? ", " : "",
                 text_excerpt(shown, s->events[i].name),
                 date_write(day, s->events[i].start));
    if (s->event_count > 8)
        text_add(list, " and %zu more", s->event_count - 8);
}

static void refuse_event(Context *d, const char *what, const char *wanted) {
    Text path = {0}, list = {0};
    Place place = {NULL, 0, "event"};
    season_file(d->season, "events", &path);
    place.file = text_of(&path);
    list_events(d->season, &list);
    notes_add(d->notes, LEVEL_ERROR, place, "%s; expected %s%s%s", what, wanted,
              d->season->event_count ? "; events there are: " : "",
              text_of(&list));
    text_free(&path);
    text_free(&list);
}

bool events_judge(Context *d, const Event *event) {
    char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
    char day[DATE_TEXT], today[DATE_TEXT];
    int away = event->start - d->season->today;
    text_excerpt(shown, event->name);
    date_write(day, event->start);
    date_write(today, d->season->today);
    if (away <= 0)
        snprintf(what, sizeof what, "%s starts on %s, not after today %s",
                 shown, day, today);
    else if (away > OUTLOOK_LONGEST)
        snprintf(what, sizeof what, "%s starts on %s, %d days after today %s",
                 shown, day, away, today);
    else
        return true;
    refuse_event(d, what,
                 away <= 0 ? "an event to come, or an earlier --today"
                           : "an event at most 366 days ahead");
    return false;
}

void events_refuse_none(Context *d) {
    char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT], day[DATE_TEXT];
    if (d->question->event)
        snprintf(what, sizeof what, "--event %s is not an event of this season",
                 text_excerpt(shown, d->question->event));
    else
        snprintf(what, sizeof what, "no event after today, %s",
                 date_write(day, d->season->today));
    refuse_event(d, what,
                 d->question->event
                     ? "the name of an event"
                     : "a season folder (not a single file) whose events.csv "
                       "has an event to come");
}

const Event *events_find(const Context *d, size_t athlete) {
    const Question *q = d->question;
    const Event *found = NULL;
    if (!q->joint || q->event_count == 0)
        return season_event(d->season, athlete, q->event);
    for (size_t i = 0; i < q->event_count; i++) {
        const Event *event = season_event(d->season, athlete, q->events[i]);
        if (event &&
            (!found || found->start <= d->season->today ||
             (event->start < found->start && event->start > d->season->today)))
            found = event;
    }
    return found;
}

bool events_has(const Context *d, size_t athlete, bool need) {
    return events_find(d, athlete) || (!need && !d->question->event);
}

bool events_leave_days(const Context *d, const Case *c, bool need) {
    return !need || c->outlook.window > 0 || d->question->joint;
}

void events_say_short(Context *d, const bool *short_of, bool others) {
    for (size_t i = 0; i < d->season->event_count; i++) {
        const Event *e = &d->season->events[i];
        const char *alone = d->chosen_count == 1
                                ? d->season->athletes[d->chosen[0]].name
                                : NULL;
        Place place = {alone, 0, NULL};
        char shown[TEXT_EXCERPT], day[DATE_TEXT];
        if (!short_of[i])
            continue;
        notes_add(d->notes, others ? LEVEL_WARNING : LEVEL_ERROR, place,
                  "no day is left to taper in before %s on %s%s%s",
                  text_excerpt(shown, e->name), date_write(day, e->start),
                  e->start == d->season->today + 1 ? ", tomorrow" : "",
                  others ? "; its athletes are left out"
                         : "; expected an event at least two days after today "
                           "and not right behind another one");
        notes_about(d->notes, alone ? alone : e->name, NULL);
    }
}

void events_leave_out(Context *d, bool need) {
    for (size_t i = 0; i < d->chosen_count; i++) {
        const Athlete *a = &d->season->athletes[d->chosen[i]];
        Place place = {a->name, 0, NULL};
        if (a->session_count > 0 && !events_has(d, d->chosen[i], need)) {
            notes_add(d->notes, LEVEL_WARNING, place,
                      "has no such event to come and is left out");
            notes_about(d->notes, a->name, NULL);
        }
    }
}
