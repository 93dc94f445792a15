/* curves: see curves.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/curves.h"

#include "answers/band.h"
#include "answers/handed.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static size_t step_of(const Outlook *o, ReadWhen when, size_t day) {
    return when == READ_AFTER ? o->after_step[day] : o->read_step[day];
}

static void set_readiness(const Case *c, const double *cut, ReadWhen when,
                          Curves *v) {
    Band band;
    band_build(c, &c->outlook, cut, when, &band);
    v->low = band.draws ? mem_new(v->days, sizeof *v->low) : NULL;
    v->high = band.draws ? mem_new(v->days, sizeof *v->high) : NULL;
    for (size_t i = 0; i < v->days; i++) {
        size_t step = step_of(&c->outlook, when, i);
        double low = case_shown(c, band.low[step]);
        double high = case_shown(c, band.high[step]);
        v->readiness[i] = case_shown(c, band.mean[step]);
        if (band.draws) {
            v->low[i] = fmin(low, high);
            v->high[i] = fmax(low, high);
        }
    }
    band_free(&band);
}

static void set_parts(const Case *c, const double *cut, ReadWhen when,
                      Curves *v) {
    const Outlook *o = &c->outlook;
    Timeline timeline = o->timeline;
    double *load = mem_new(timeline.steps, sizeof *load);
    double *fitness = mem_new(timeline.steps, sizeof *fitness);
    double *fatigue = mem_new(timeline.steps, sizeof *fatigue);
    outlook_apply(o, cut, load);
    timeline.load = load;
    band_parts(c, &timeline, when, fitness, fatigue);
    for (size_t i = 0; i < v->days; i++) {
        v->fitness[i] = fitness[step_of(o, when, i)];
        v->fatigue[i] = fatigue[step_of(o, when, i)];
    }
    free(load);
    free(fitness);
    free(fatigue);
}

static void set_taper(const Outlook *o, const double *cut, Curves *v) {
    size_t longest = o->window;
    while (longest > 0 && !(cut[longest - 1] > 0))
        longest--;
    v->taper_from = v->taper_to = DATE_NONE;
    if (!o->event || longest == 0)
        return;
    v->taper_from = o->event->start - (Date)longest;
    v->taper_to = o->event->start - 1;
}

/* Load of each day: logged, or planned with its cut. */
static void set_loads(const Case *c, const double *cut, Curves *v) {
    const Outlook *o = &c->outlook;
    for (size_t i = 0; i < v->days; i++) {
        size_t before = o->event && i < o->event_day ? o->event_day - i : 0;
        v->load[i] = outlook_planned(o, i);
        if (before >= 1 && before <= o->window)
            v->load[i] -= cut[before - 1] * o->cuttable[i];
    }
}

void curves_build_cuts(const Case *c, const double *cut, ReadWhen when,
                       size_t days, Curves *v) {
    *v = (Curves){.c = c, .days = days, .issued = DATE_NONE};
    v->load = mem_new(days, sizeof *v->load);
    v->fitness = mem_new(days, sizeof *v->fitness);
    v->fatigue = mem_new(days, sizeof *v->fatigue);
    v->readiness = mem_new(days, sizeof *v->readiness);
    set_parts(c, cut, when, v);
    set_readiness(c, cut, when, v);
    set_loads(c, cut, v);
    set_taper(&c->outlook, cut, v);
}

void curves_build(const Case *c, const Option *option, ReadWhen when,
                  size_t days, Curves *v) {
    double *cut = mem_new(c->outlook.window, sizeof *cut);
    option_cuts(option, c->outlook.window, cut);
    curves_build_cuts(c, cut, when, days, v);
    free(cut);
}

void curves_build_handed(const Case *handed, Date issued, size_t days,
                         Curves *v) {
    const Option none = {.count = 0};
    Date first = handed_first_cut(handed);
    curves_build(handed, &none, READ_BEFORE, days, v);
    v->issued = issued;
    if (first < handed->event->start) {
        v->taper_from = first;
        v->taper_to = handed->event->start - 1;
    }
}

void curves_free(Curves *v) {
    free(v->load);
    free(v->fitness);
    free(v->fatigue);
    free(v->readiness);
    free(v->low);
    free(v->high);
    *v = (Curves){0};
}
