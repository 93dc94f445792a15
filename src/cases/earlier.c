/* earlier: see earlier.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/earlier.h"

#include "base/mem.h"

#include <stdlib.h>

bool earlier_lies_before(const Season *s, size_t athlete, const Event *e,
                         const Event *later) {
    return event_concerns(e, athlete) && e->start > s->today &&
           e->start + e->days <= later->start;
}

bool earlier_is_handed(const Context *d, size_t athlete, const Event *event) {
    size_t count;
    const HandedRow *rows = season_handed(d->season, athlete, &count);
    return rows && !d->question->ignore_plan &&
           rows[0].issued <= d->season->today &&
           rows[count - 1].date >= event->start - 1;
}

static void set_cut(Usual *u, Date date, double cut) {
    if (date >= u->cut_from && date < u->cut_from + (Date)u->cut_days)
        u->cut[date - u->cut_from] = cut;
}

/* The day after the last event of the athlete before another, or today's. */
static Date begins_behind(const Usual *u, const Event *event) {
    const Season *s = u->season;
    Date first = u->cut_from;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        if (event_concerns(e, u->athlete) && e != event &&
            e->start + e->days <= event->start && e->start + e->days > first)
            first = e->start + e->days;
    }
    return first;
}

void earlier_cuts(Usual *u, const Event *event, const double *cut,
                  size_t window) {
    for (size_t k = 1; k <= window; k++)
        if (cut[k - 1] != 0)
            set_cut(u, event->start - (Date)k, cut[k - 1]);
}

void earlier_taper(Usual *u, const Event *event, const Option *option) {
    Date first = begins_behind(u, event);
    size_t window = event->start > first ? (size_t)(event->start - first) : 0;
    double *cut = mem_new(window, sizeof *cut);
    option_cuts(option, window, cut);
    earlier_cuts(u, event, cut, window);
    free(cut);
}

/* The event until which others are looked for. */
static const Event *last_of(const Context *d, const Case *c) {
    const Season *s = d->season;
    const Event *last = c->event;
    for (size_t i = 0; i < s->event_count && d->question->joint; i++)
        if (event_concerns(&s->events[i], c->athlete) &&
            s->events[i].start > last->start &&
            s->events[i].start - s->today <= OUTLOOK_LONGEST)
            last = &s->events[i];
    return last;
}

static void apply(const Context *d, Case *c, const Event *event) {
    Usual *u = &c->usual;
    if (!d->question->joint && earlier_is_handed(d, c->athlete, event)) {
        u->handed = true;
        u->handed_until = event->start + event->days;
    }
    for (size_t i = 0; i < d->earlier_count; i++)
        if (d->earlier[i].athlete == c->athlete && d->earlier[i].event == event)
            earlier_taper(u, event, &d->earlier[i].option);
    set_cut(u, event->start + event->days, 1);
}

/* Has an event begun that is not over before today? */
static bool has_begun(const Season *s, size_t athlete, const Event *e,
                      const Event *later) {
    return event_concerns(e, athlete) && e->start <= s->today &&
           e->start + e->days > s->today && e->start + e->days <= later->start;
}

bool earlier_recovers(const Case *c, Date date) {
    const Season *s = c->context->season;
    const Usual *u = &c->usual;
    if (date < u->cut_from || date >= u->cut_from + (Date)u->cut_days ||
        u->cut[date - u->cut_from] < 1)
        return false;
    for (size_t i = 0; i < s->event_count; i++)
        if (event_concerns(&s->events[i], c->athlete) &&
            s->events[i].start + s->events[i].days == date)
            return true;
    return false;
}

void earlier_apply(const Context *d, Case *c) {
    const Season *s = d->season;
    const Question *q = d->question;
    const Event *last;
    bool asked = q->event || q->joint;
    if (!c->event || q->carried)
        return;
    last = last_of(d, c);
    for (size_t i = 0; i < s->event_count && !asked; i++)
        asked = has_begun(s, c->athlete, &s->events[i], last);
    if (!asked)
        return;
    c->usual.cut_from = s->today + 1;
    c->usual.cut_days = (size_t)(last->start - s->today - 1);
    c->usual.cut = mem_new(c->usual.cut_days, sizeof *c->usual.cut);
    for (size_t i = 0; i < s->event_count; i++)
        if (earlier_lies_before(s, c->athlete, &s->events[i], last))
            apply(d, c, &s->events[i]);
        else if (has_begun(s, c->athlete, &s->events[i], last))
            set_cut(&c->usual, s->events[i].start + s->events[i].days, 1);
}
