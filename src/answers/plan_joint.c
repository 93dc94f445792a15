/* plan_joint: see plan_joint.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/plan_joint.h"

#include "base/mem.h"
#include "cases/earlier.h"

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

/* The plan before one event, with what goes before it as planned. */
static StatusCode make_part(const Case *c, const Event *event,
                            const Option *option, PlanJoint *j,
                            Status *status) {
    Plan part = {0};
    Date from = j->plan.peak_count ? j->last.event->start + j->last.event->days
                                   : c->outlook.first;
    StatusCode code;
    outlook_free(&j->last.outlook);
    j->last.event = event;
    outlook_build(&j->last.usual, &c->daily, event, c->before,
                  &j->last.outlook);
    code = plan_make_whole(&j->last, option, &part, status);
    if (code == STATUS_OK) {
        append(&j->plan, &part, from);
        best_taper_free(&j->plan.taper);
        free(j->plan.sheet.cut);
        j->plan.taper = part.taper;
        j->plan.sheet.cut = part.sheet.cut;
        j->plan.option = j->plan.common = part.option;
        j->plan.from = part.from;
        j->plan.ideal = part.ideal;
        j->plan.rounded = part.rounded;
        part.taper = (BestTaper){0};
        part.sheet.cut = NULL;
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
    for (size_t k = 0; k < p->count && code == STATUS_OK; k++) {
        const JointPeak *peak = &p->peaks[k];
        const Option *option = &p->joint.recommended[k];
        code = make_part(c, peak->event, option, j, status);
        earlier_taper(&j->last.usual, peak->event, option);
        j->plan.peaks[j->plan.peak_count++] =
            (PlanPeak){peak->event, *option, peak->readiness, peak->none};
    }
    return code;
}

void plan_joint_free(PlanJoint *j) {
    plan_free(&j->plan);
    outlook_free(&j->last.outlook);
}
