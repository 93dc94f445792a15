/* changed_days: see changed_days.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/changed_days.h"

#include <math.h>
#include <stdio.h>

enum { LARGE_DAY = 3 /* times the largest day's load of the log */ };

static void refuse_change(Context *d, const Case *c, const DayChange *change,
                          const char *wanted) {
    char day[DATE_TEXT];
    Place place = {"--missed/--did", 0, NULL};
    notes_add(d->notes, LEVEL_ERROR, place, "%s is %s, expected %s",
              date_write(day, change->date),
              c->event ? "no day of the log or of the way to the event"
                       : "no day of the log",
              wanted);
}

/* The days that may be said to be otherwise: from the first logged to the last
 * before the event. */
static bool judge_change(Context *d, const Case *c, const DayChange *change) {
    Date last = c->event ? c->event->start - 1
                         : c->daily.first + (Date)c->daily.days - 1;
    char from[DATE_TEXT], to[DATE_TEXT], wanted[STATUS_TEXT / 2];
    snprintf(wanted, sizeof wanted, "a date from %s to %s",
             date_write(from, c->daily.first), date_write(to, last));
    if (change->date >= c->daily.first && change->date <= last)
        return true;
    refuse_change(d, c, change, wanted);
    return false;
}

/* A day of another event has that event's load. */
static bool judge_shared(Context *d, const Case *c, const DayChange *change) {
    for (size_t i = 0; i < d->season->event_count; i++) {
        const Event *other = &d->season->events[i];
        char shown[TEXT_EXCERPT], day[DATE_TEXT];
        Place place = {"--missed/--did", 0, NULL};
        if (!event_concerns(other, c->athlete) ||
            change->date < c->daily.first + (Date)c->daily.days ||
            change->date < other->start ||
            change->date >= other->start + other->days)
            continue;
        notes_add(d->notes, LEVEL_ERROR, place,
                  "%s is a day of %s, expected its load_per_day in events.csv "
                  "to be changed instead",
                  date_write(day, change->date),
                  text_excerpt(shown, other->name));
        return false;
    }
    return true;
}

/* The day was free anyway. */
static void warn_of_free_day(Context *d, const Case *c,
                             const DayChange *change) {
    PlannedSession sessions[USUAL_MOST];
    char text[STATUS_TEXT / 2], day[DATE_TEXT];
    size_t at = (size_t)(change->date - c->daily.first);
    bool free_day = at < c->daily.days
                        ? !(c->daily.load[at] > 0)
                        : usual_day(&c->usual, change->date, sessions) == 0;
    if (change->load > 0 || !free_day)
        return;
    snprintf(text, sizeof text,
             "--missed %s changes nothing: no training was %s that day",
             date_write(day, change->date),
             at < c->daily.days ? "logged" : "planned");
    case_warn(d, c, text);
}

/* A slip of the finger, or of the unit? */
static void warn_of_large_day(Context *d, const Case *c,
                              const DayChange *change) {
    char text[STATUS_TEXT / 2], day[DATE_TEXT];
    double most = 0;
    for (size_t i = 0; i < c->daily.days; i++)
        most = fmax(most, c->daily.load[i]);
    if (!(most > 0) || change->load <= LARGE_DAY * most)
        return;
    snprintf(text, sizeof text,
             "--did %s=%g is %.0f times the largest load of a day in the log "
             "(%.4g)",
             date_write(day, change->date), change->load, change->load / most,
             most);
    case_warn(d, c, text);
}

static bool is_changed(const Context *d, size_t athlete) {
    for (size_t i = 0; d->changed && i < d->changed_count; i++)
        if (d->changed[i] == athlete)
            return true;
    return !d->changed;
}

void changed_days_apply(Context *d, Case *c) {
    const Question *q = d->question;
    if (!is_changed(d, c->athlete))
        return;
    for (size_t i = 0; i < q->change_count; i++) {
        const DayChange *change = &q->changes[i];
        size_t day = (size_t)(change->date - c->daily.first);
        if (!judge_change(d, c, change) || !judge_shared(d, c, change))
            continue;
        warn_of_free_day(d, c, change);
        warn_of_large_day(d, c, change);
        if (day < c->daily.days)
            daily_replace(&c->daily, change->date, change->load);
    }
    c->usual.changes = q->changes;
    c->usual.change_count = q->change_count;
    c->usual.weekdays = q->weekdays;
}
