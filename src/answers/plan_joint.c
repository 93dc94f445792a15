/* plan_joint: see plan_joint.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/plan_joint.h"

#include "answers/joint_squad.h"
#include "base/mem.h"
#include "cases/earlier.h"

#include <math.h>
#include <stdlib.h>

/* Rows from a day on, behind those of the plan. */
static void append(Plan *plan, const Plan *part, Date from) {
    const Prescription *add = &part->sheet;
    size_t count = plan->sheet.count, room = count + add->count;
    PlanRow *rows = mem_new(room, sizeof *rows);
    double *cost = mem_new(room, sizeof *cost);
    for (size_t i = 0; i < count; i++) {
        rows[i] = plan->sheet.rows[i];
        cost[i] = plan->cost[i];
    }
    for (size_t i = 0; i < add->count; i++)
        if (add->rows[i].date >= from) {
            rows[count] = add->rows[i];
            cost[count++] = part->cost[i];
        }
    free(plan->sheet.rows);
    free(plan->cost);
    plan->sheet.rows = rows;
    plan->sheet.count = count;
    plan->sheet.room = room;
    plan->cost = cost;
}

/* Takes up the plan before one event. */
static void take_part(PlanJoint *j, Plan *part, Date from) {
    append(&j->plan, part, from);
    best_taper_free(&j->plan.taper);
    free(j->plan.sheet.cut);
    j->plan.taper = part->taper;
    j->plan.sheet.cut = part->sheet.cut;
    j->plan.option = part->option;
    j->plan.common = part->common;
    j->plan.from = part->from;
    j->plan.ideal = part->ideal;
    j->plan.rounded = part->rounded;
    part->taper = (BestTaper){0};
    part->sheet.cut = NULL;
}

/* Which sessions its taper cuts, and what it brings. */
static void look(const Plan *part, const JointPeak *found, PlanPeak *peak) {
    const Outlook *o = &part->taper.c->outlook;
    Date first = o->first + (Date)(o->event_day - o->window);
    Spread spread = best_taper_spread_cuts(&part->taper, part->sheet.cut);
    for (size_t i = 0; i < part->sheet.count; i++) {
        const PlanRow *row = &part->sheet.rows[i];
        if (row->exercise || row->event || row->keep || row->date < first)
            continue;
        peak->team = peak->team || row->team;
        peak->own = peak->own || !row->team;
    }
    peak->foretold = part->foretold;
    peak->none = found->none;
    peak->readiness = isnan(found->none) ? NAN : part->rounded;
    peak->low = isnan(found->none) ? NAN : spread.readiness_low;
    peak->high = isnan(found->none) ? NAN : spread.readiness_high;
}

/* The plan before one event, with what goes before it as planned. */
static StatusCode make_part(const Case *c, const JointPeak *found,
                            const Option *option, PlanJoint *j,
                            Status *status) {
    const Event *event = found->event;
    PlanPeak *peak = &j->plan.peaks[j->plan.peak_count];
    Plan part = {0};
    Date from = j->plan.peak_count ? j->last.event->start + j->last.event->days
                                   : c->outlook.first;
    StatusCode code;
    outlook_free(&j->last.outlook);
    j->context = joint_squad_of(c->context, event);
    j->last.context = &j->context;
    j->last.event = event;
    outlook_build(&j->last.usual, &c->daily, event, c->before,
                  &j->last.outlook);
    *peak = (PlanPeak){.event = event,
                       .option = *option,
                       .common = best_taper_common(&j->last, option)};
    code = plan_make_whole(&j->last, option, &peak->common, &part, status);
    if (code == STATUS_OK) {
        look(&part, found, peak);
        earlier_cuts(&j->last.usual, event, part.sheet.cut,
                     j->last.outlook.window);
        take_part(j, &part, from);
        j->plan.peak_count++;
    }
    plan_free(&part);
    return code;
}

StatusCode plan_joint_make(const Case *c, const JointPeaks *p, PlanJoint *j,
                           Status *status) {
    StatusCode code = STATUS_OK;
    *j = (PlanJoint){.last = *c};
    j->last.outlook = (Outlook){0};
    j->plan.peaks = mem_new(p->count, sizeof *j->plan.peaks);
    for (size_t k = 0; k < p->count && code == STATUS_OK; k++)
        code = make_part(c, &p->peaks[k], &p->joint.recommended[k], j, status);
    return code;
}

void plan_joint_free(PlanJoint *j) {
    plan_free(&j->plan);
    outlook_free(&j->last.outlook);
}
