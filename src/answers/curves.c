/* curves: see curves.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/curves.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static size_t step_of(const Outlook *o, ReadWhen when, size_t day) {
    return when == READ_AFTER ? o->after_step[day] : o->read_step[day];
}

static void add_band(const Case *c, const Timeline *timeline, ReadWhen when,
                     Curves *v) {
    const Draws *draws = case_draws(c);
    const Outlook *o = &c->outlook;
    size_t n = draws->count;
    double *readiness = mem_new(n * timeline->steps, sizeof *readiness);
    draw_readiness(o, timeline, draws, when, case_anchor(c), readiness);
    v->low = mem_new(v->days, sizeof *v->low);
    v->high = mem_new(v->days, sizeof *v->high);
    for (size_t i = 0; i < v->days; i++) {
        double *row = readiness + step_of(o, when, i) * n;
        double low = case_shown(c, draws_quantile(row, n, .05));
        double high = case_shown(c, draws_quantile(row, n, .95));
        v->low[i] = fmin(low, high);
        v->high[i] = fmax(low, high);
    }
    free(readiness);
}

static void set_taper(const Outlook *o, const Option *option, Curves *v) {
    size_t length = (size_t)option_days(option);
    v->taper_from = v->taper_to = DATE_NONE;
    if (!o->event || length == 0 || o->window == 0)
        return;
    if (length > o->window)
        length = o->window;
    v->taper_from = o->event->start - (Date)length;
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

void curves_build(const Case *c, const Option *option, ReadWhen when,
                  size_t days, bool band, Curves *v) {
    const Outlook *o = &c->outlook;
    const ResponseParams *params = &case_model(c)->params;
    Timeline timeline = o->timeline;
    double *load = mem_new(timeline.steps, sizeof *load);
    double *fitness = mem_new(timeline.steps, sizeof *fitness);
    double *fatigue = mem_new(timeline.steps, sizeof *fatigue);
    double *cut = mem_new(o->window, sizeof *cut);
    *v = (Curves){.c = c, .days = days};
    option_cuts(option, o->window, cut);
    outlook_apply(o, cut, load);
    timeline.load = load;
    kernel_run(params, &timeline, when, fitness, fatigue);
    v->load = mem_new(days, sizeof *v->load);
    v->fitness = mem_new(days, sizeof *v->fitness);
    v->fatigue = mem_new(days, sizeof *v->fatigue);
    v->readiness = mem_new(days, sizeof *v->readiness);
    for (size_t i = 0; i < days; i++) {
        v->fitness[i] = fitness[step_of(o, when, i)];
        v->fatigue[i] = fatigue[step_of(o, when, i)];
        v->readiness[i] = case_shown(c, params->value[PARAM_P0] +
                                            v->fitness[i] - v->fatigue[i]);
    }
    set_loads(c, cut, v);
    set_taper(o, option, v);
    if (band && case_draws(c)->count > 0)
        add_band(c, &timeline, when, v);
    free(load);
    free(fitness);
    free(fatigue);
    free(cut);
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
