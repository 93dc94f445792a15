/* earlier_tapers: see earlier_tapers.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/earlier_tapers.h"

#include "answers/squad_tapers.h"
#include "base/mem.h"
#include "cases/earlier.h"
#include "cases/events.h"

#include <stdlib.h>

static bool on_the_way(const Context *d, size_t athlete, const Event *event) {
    const Event *later = events_find(d, athlete);
    return later && earlier_lies_before(d->season, athlete, event, later);
}

static bool concerns_somebody(const Context *d, const Event *event) {
    for (size_t i = 0; i < d->season->athlete_count; i++)
        if (on_the_way(d, i, event))
            return true;
    return false;
}

/* What is recommended for an event to those for whom it is on the way. */
static size_t decide(Context *d, const Event *event, EarlierTaper *list,
                     size_t count) {
    Question q = *d->question;
    Context aside = *d;
    size_t found = count;
    q.event = event->name;
    aside.question = &q;
    aside.assigned = aside.assigned_before = NULL;
    squad_tapers_decide(&aside);
    d->kept = aside.kept; /* of their tests, whatever the event */
    for (size_t i = 0; i < d->season->athlete_count; i++)
        if (aside.assigned[i].event == event && on_the_way(d, i, event) &&
            !earlier_is_handed(d, i, event))
            list[found++] = (EarlierTaper){i, event, aside.assigned[i].option};
    free(aside.assigned);
    free(aside.assigned_before);
    return found;
}

EarlierTaper *earlier_tapers_find(Context *d) {
    const Season *s = d->season;
    EarlierTaper *list = NULL;
    if (!d->question->event || d->question->joint)
        return NULL;
    for (size_t i = 0; i < s->event_count; i++) {
        if (!concerns_somebody(d, &s->events[i]))
            continue;
        if (!list)
            list = mem_new(s->event_count * s->athlete_count, sizeof *list);
        d->earlier = list;
        d->earlier_count = decide(d, &s->events[i], list, d->earlier_count);
    }
    return list;
}

static const EarlierTaper *taper_of(const Case *c, const Event *event) {
    const Context *d = c->context;
    for (size_t i = 0; i < d->earlier_count; i++)
        if (d->earlier[i].athlete == c->athlete && d->earlier[i].event == event)
            return &d->earlier[i];
    return NULL;
}

void earlier_tapers_words(const Case *c, Text *text) {
    const Context *d = c->context;
    const Season *s = d->season;
    for (size_t i = 0; i < s->event_count && d->question->event; i++) {
        const Event *e = &s->events[i];
        const EarlierTaper *taper = taper_of(c, e);
        if (!earlier_lies_before(s, c->athlete, e, c->event))
            continue;
        text_add(text, "%s%s", text->length ? "; " : "before it ", e->name);
        if (taper && taper->option.count > 0) {
            text_add(text, ", with its taper (");
            option_write(&taper->option, text);
            text_add(text, ")");
        } else if (taper)
            text_add(text, ", without a taper");
        else if (earlier_is_handed(d, c->athlete, e))
            text_add(text, ", as the plan handed out says,");
        text_add(text, " and a recovery day");
    }
    if (text->length)
        text_add(text, ".");
}
