/* recovery: see recovery.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/recovery.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

void recovery_build(const BestTaper *v, Recovery *w) {
    const Outlook *o = &v->c->outlook;
    double *cut = mem_new(o->window, sizeof *cut);
    Case carried;
    band_build(v->c, o, cut, READ_BEFORE, &w->none);
    best_taper_carried(v, &carried, cut);
    band_build(&carried, &carried.outlook, cut, READ_BEFORE, &w->taper);
    best_taper_carried_free(v, &carried);
    w->level = w->none.mean[o->read_step[o->event_day]];
    free(cut);
}

void recovery_free(Recovery *w) {
    band_free(&w->none);
    band_free(&w->taper);
}

int recovery_day(const BestTaper *v, const double *readiness, size_t stride,
                 double level, int last) {
    const Outlook *o = &v->c->outlook;
    for (int day = 1; day <= last; day++) {
        size_t at = o->event_day + o->event_days + (size_t)day - 1;
        if (readiness[o->read_step[at] * stride] >= level - 1e-9 * fabs(level))
            return day;
    }
    return RECOVERY_NEVER;
}

int recovery_free_days(const BestTaper *v) {
    const Case *c = v->c;
    const Season *s = c->context->season;
    Date end = c->event->start + c->event->days;
    int days = OUTLOOK_TAIL;
    for (size_t i = 0; i < s->event_count; i++)
        if (&s->events[i] != c->event &&
            event_concerns(&s->events[i], c->athlete) &&
            s->events[i].start >= end && s->events[i].start - end < days)
            days = s->events[i].start - end;
    return days;
}

static int by_size(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

bool recovery_range(const BestTaper *v, int last, int *low, int *high) {
    const Outlook *o = &v->c->outlook;
    const Draws *draws = case_draws(v->c);
    size_t n = draws->count, steps = o->timeline.steps;
    size_t first = o->read_step[o->event_day];
    double *cut = mem_new(o->window, sizeof *cut);
    double *load = mem_new(steps, sizeof *load);
    double *none = mem_new(n * steps, sizeof *none);
    double *taper = mem_new(n * steps, sizeof *taper);
    int *day = mem_new(n, sizeof *day);
    Timeline line;
    Case carried;
    best_taper_carried(v, &carried, cut);
    outlook_apply(&carried.outlook, cut, load);
    line = carried.outlook.timeline;
    line.load = load;
    if (n > 0) {
        kernel_batch(n, draws->set, &o->timeline, READ_BEFORE, none);
        kernel_batch(n, draws->set, &line, READ_BEFORE, taper);
    }
    for (size_t i = 0; i < n; i++)
        day[i] = recovery_day(v, taper + i, n, none[first * n + i], last);
    qsort(day, n, sizeof *day, by_size);
    best_taper_carried_free(v, &carried);
    *low = n ? day[(size_t)(.05 * (double)(n - 1))] : RECOVERY_NEVER;
    *high = n ? day[(size_t)(.95 * (double)(n - 1))] : RECOVERY_NEVER;
    free(cut);
    free(load);
    free(none);
    free(taper);
    free(day);
    return n > 0;
}
