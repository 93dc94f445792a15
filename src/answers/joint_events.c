/* joint_events: see joint_events.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_events.h"

#include <stdio.h>

bool joint_events_named(const Question *q, const char *name) {
    for (size_t i = 0; i < q->event_count; i++)
        if (text_same(q->events[i], name))
            return true;
    return q->event_count == 0;
}

StatusCode joint_events_refuse(const Season *s, size_t line, const char *what,
                               Status *status) {
    char where[32] = "";
    if (line)
        snprintf(where, sizeof where, ":%zu", line);
    return status_fail(status, STATUS_DATA, "%s/events.csv%s: %s: %s",
                       s->folder, where, line ? "start" : "event", what);
}

/* An event that was named must be one that can be planned for. */
static StatusCode judge(const Season *s, const Event *event, Status *status) {
    char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
    char day[DATE_TEXT], today[DATE_TEXT];
    int away = event->start - s->today;
    if (away > 0 && away <= OUTLOOK_LONGEST)
        return STATUS_OK;
    snprintf(what, sizeof what, "%s starts on %s, %s %s, expected %s",
             text_excerpt(shown, event->name), date_write(day, event->start),
             away > 0 ? "more than 366 days after today" : "not after today",
             date_write(today, s->today),
             away > 0 ? "an event at most 366 days ahead"
                      : "an event to come, or an earlier --today");
    return joint_events_refuse(s, event->line, what, status);
}

/* Two events that share days cannot both be planned for. */
static StatusCode judge_pair(const Season *s, const Event *a, const Event *b,
                             Status *status) {
    char what[STATUS_TEXT / 2], one[TEXT_EXCERPT], other[TEXT_EXCERPT];
    if (b->start >= a->start + a->days)
        return STATUS_OK;
    snprintf(what, sizeof what,
             "%s and %s share days, expected events one after the other; "
             "--event names those to weigh",
             text_excerpt(one, a->name), text_excerpt(other, b->name));
    return joint_events_refuse(s, b->line, what, status);
}

StatusCode joint_events_choose(const Case *c, const Event **event,
                               size_t *count, Status *status) {
    const Season *s = c->context->season;
    const Question *q = c->context->question;
    *count = 0;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        int away = e->start - s->today;
        StatusCode code = STATUS_OK;
        if (!event_concerns(e, c->athlete) || !joint_events_named(q, e->name))
            continue;
        if (q->event_count)
            code = judge(s, e, status);
        else if (away <= 0 || away > OUTLOOK_LONGEST)
            continue;
        if (code == STATUS_OK && *count > 0)
            code = judge_pair(s, event[*count - 1], e, status);
        if (code != STATUS_OK)
            return code;
        event[(*count)++] = e;
    }
    return STATUS_OK;
}

StatusCode joint_events_judge_names(const Context *d, Status *status) {
    const Question *q = d->question;
    for (size_t i = 0; i < q->event_count; i++) {
        bool found = false;
        char what[STATUS_TEXT / 2], shown[TEXT_EXCERPT];
        for (size_t k = 0; k < d->season->event_count; k++)
            found = found || text_same(d->season->events[k].name, q->events[i]);
        if (found)
            continue;
        snprintf(what, sizeof what,
                 "--event %s is not an event of this season, expected the name "
                 "of one",
                 text_excerpt(shown, q->events[i]));
        return joint_events_refuse(d->season, 0, what, status);
    }
    return STATUS_OK;
}
