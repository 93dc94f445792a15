/* plan: see plan.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/plan.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* To the next weight below that the bar allows, never above what was given: one
 * under the first step stays. */
static void round_weights(Prescription *s, double plate) {
    for (size_t i = 0; i < s->count; i++) {
        double *kg = &s->rows[i].kg;
        double below = plate * floor(*kg / plate + 1e-9);
        if (below > 0)
            *kg = fmin(*kg, below);
    }
}

/* The last event between today, which may be its last day, and this one. */
static const Event *on_the_way(const Case *c) {
    const Season *s = c->context->season;
    const Event *last = NULL;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        Date end = e->start + (Date)e->days;
        if (event_concerns(e, c->athlete) && end <= c->event->start &&
            end > s->today && (!last || end > last->start + (Date)last->days))
            last = e;
    }
    return last;
}

/* Leaves out the rows before a day. */
static void begin_on(Prescription *s, Date first) {
    size_t kept = 0;
    for (size_t i = 0; i < s->count; i++)
        if (s->rows[i].date >= first)
            s->rows[kept++] = s->rows[i];
    s->count = kept;
}

/* Training until an event on the way is that event's plan's to tell. */
static void begin_behind(Plan *p, const Case *c) {
    p->before = on_the_way(c);
    if (!p->before)
        return;
    p->from = p->before->start + (Date)p->before->days;
    begin_on(&p->sheet, p->before->start);
}

/* What missing a session takes from readiness at the event: only of sessions
 * that could be cut in the days before it. */
static double cost_of(const Plan *p, const PlanRow *row) {
    const Outlook *o = &p->taper.c->outlook;
    size_t day = (size_t)(row->date - o->first);
    size_t before = o->event_day > day ? o->event_day - day : 0;
    double *cut, cost;
    if (row->exercise || row->event || row->keep || before < 1 ||
        before > o->window || !(row->load > 0) || o->cuttable[day] <= 0)
        return 0;
    cut = mem_new(o->window, sizeof *cut);
    for (size_t u = 0; u < o->window; u++)
        cut[u] = p->sheet.cut[u];
    cut[before - 1] += row->load / o->cuttable[day];
    cost = p->rounded - score_cuts(&p->taper.score, cut);
    free(cut);
    return cost;
}

static void set_costs(Plan *p) {
    bool told = p->taper.possible > 0 && !best_taper_silent(&p->taper) &&
                p->rounded > p->taper.search.items[0].readiness;
    p->cost = mem_new(p->sheet.count, sizeof *p->cost);
    for (size_t i = 0; i < p->sheet.count && told; i++)
        p->cost[i] = fmax(0, cost_of(p, &p->sheet.rows[i])) / p->taper.possible;
}

/* Is the option asked for the same for everybody? */
static bool one_for_all(const Question *q) {
    return q->option_count > 0 && !text_same(q->options[0].spec, "best") &&
           !text_same(q->options[0].spec, "recommended");
}

/* The sheet of p->option, by p->common for the sessions of the team. */
static void fill_sheet(Plan *p, const Case *c) {
    const Question *q = c->context->question;
    prescription_build_team(&c->outlook, &c->usual, &p->option, &p->common,
                            &p->sheet);
    p->from = c->context->season->today + 1;
    begin_on(&p->sheet, p->from);
    p->ideal = p->taper.search.items[0].readiness + best_taper_gain(&p->taper);
    p->rounded = score_cuts(&p->taper.score, p->sheet.cut);
    p->foretold = foretold_cuts(&p->taper, p->rounded, p->sheet.cut);
    if (q->plate > 0)
        round_weights(&p->sheet, q->plate);
}

StatusCode plan_make(const Case *c, Plan *p, Status *status) {
    const Question *q = c->context->question;
    StatusCode code = best_taper_build(c, &p->taper, status);
    const Search *s = &p->taper.search;
    if (code != STATUS_OK)
        return code;
    p->given = q->option_count > 0;
    p->option = p->given ? best_taper_option(s, q->options[0].spec)
                         : best_taper_own(&p->taper);
    if (p->given)
        best_taper_take(&p->taper, &p->option, one_for_all(q));
    p->common = one_for_all(q) ? p->option : best_taper_common(c, &p->option);
    fill_sheet(p, c);
    begin_behind(p, c);
    set_costs(p);
    return STATUS_OK;
}

StatusCode plan_make_whole(const Case *c, const Option *option,
                           const Option *common, Plan *p, Status *status) {
    StatusCode code = best_taper_build(c, &p->taper, status);
    if (code != STATUS_OK)
        return code;
    p->option = *option;
    p->common = *common;
    best_taper_take(&p->taper, option, true);
    fill_sheet(p, c);
    set_costs(p);
    return STATUS_OK;
}

void plan_free(Plan *p) {
    best_taper_free(&p->taper);
    prescription_free(&p->sheet);
    free(p->peaks);
    free(p->cost);
}

/* ---- text ---- */

size_t plan_events(const Plan *p) {
    return p->peak_count > 0 ? p->peak_count : 1;
}

const Event *plan_event(const Plan *p, size_t at) {
    return p->peak_count > 0 ? p->peaks[at].event : p->taper.c->event;
}

Foretold plan_foretold(const Plan *p, size_t at) {
    return p->peak_count > 0 ? p->peaks[at].foretold : p->foretold;
}

bool plan_waits(const Plan *p) {
    return p->before && p->from > p->taper.c->context->season->today + 1;
}

bool plan_was_cut(const PlanRow *row) {
    return fabs(row->cut) > 1e-9;
}

static void add_row(PlanTotals *t, const PlanRow *row) {
    if (!row->exercise) {
        t->load += row->load;
        t->usual_load += row->usual_load;
        if (isfinite(row->usual_minutes)) {
            t->minutes += row->minutes;
            t->usual_minutes += row->usual_minutes;
        }
        return;
    }
    t->sets += row->sets;
    t->usual_sets += row->usual_sets;
    if (isfinite(row->kg)) {
        t->moved += row->sets * row->reps * row->kg;
        t->usual_moved += row->usual_sets * row->reps * row->kg;
    }
}

PlanTotals plan_totals(const Plan *p, size_t from, size_t to) {
    PlanTotals t = {0};
    for (size_t i = from; i < to; i++)
        add_row(&t, &p->sheet.rows[i]);
    return t;
}

bool plan_not_cut(const PlanTotals *t) {
    double sets = 1 - t->sets / t->usual_sets;
    double moved = 1 - t->moved / t->usual_moved;
    return t->usual_moved > 0 && sets > .1 && moved < sets / 2;
}

double plan_week_load(const Plan *p, size_t from, size_t to) {
    return plan_totals(p, from, to).load;
}

Date plan_monday(Date date) {
    return date - date_weekday(date);
}

size_t plan_week_end(const Plan *p, size_t from) {
    const PlanRow *rows = p->sheet.rows;
    size_t to = from;
    while (to < p->sheet.count &&
           plan_monday(rows[to].date) == plan_monday(rows[from].date))
        to++;
    return to;
}

bool plan_lists(const Plan *p) {
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].exercise)
            return true;
    return false;
}

/* ---- the squad at a glance ---- */

/* First day to come that was told otherwise than in the files. */
static Date first_changed(const Case *c) {
    const Question *q = c->context->question;
    Date today = c->context->season->today, first = c->event->start;
    if (q->weekdays)
        return today + 1 < first ? today + 1 : first;
    for (size_t i = 0; i < q->change_count; i++)
        if (q->changes[i].date > today && q->changes[i].date < first)
            first = q->changes[i].date;
    return first;
}

/* The first day of a plan's own taper, before the first of its events. */
static Date taper_begins(const Plan *p) {
    if (p->handed)
        return plan_event(p, 0)->start;
    return plan_event(p, 0)->start -
           option_days(p->peak_count ? &p->peaks[0].option : &p->option);
}

Date plan_first_cut(const Plan *p, size_t count) {
    Date first = first_changed(p[0].taper.c);
    for (size_t k = 0; k < count; k++) {
        Date begins = taper_begins(&p[k]);
        if (begins < first && begins >= p[k].from)
            first = begins;
        for (size_t i = 0; i < p[k].sheet.count; i++)
            if (plan_was_cut(&p[k].sheet.rows[i]) &&
                p[k].sheet.rows[i].date < first)
                first = p[k].sheet.rows[i].date;
    }
    return first;
}
