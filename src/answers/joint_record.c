/* joint_record: see joint_record.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_record.h"

#include "answers/best_taper.h"
#include "answers/changed.h"
#include "answers/joint_squad.h"
#include "answers/plan_joint.h"
#include "base/mem.h"
#include "cases/context.h"
#include "cases/each.h"
#include "cases/earlier.h"
#include "cases/events.h"
#include "cases/models.h"
#include "taper/prescription.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

size_t joint_record_events(const Context *d, size_t athlete,
                           const char **name) {
    const Season *s = d->season;
    size_t rows, count = 0;
    const HandedRow *row = season_handed(s, athlete, &rows);
    if (!row || !row[0].joint || row[0].issued > s->today ||
        d->question->ignore_plan)
        return 0;
    for (size_t i = 0; i < s->event_count; i++) {
        const Event *e = &s->events[i];
        bool there = false;
        for (size_t k = 0; k < rows; k++)
            there = there || (row[k].event && row[k].date == e->start &&
                              text_same(row[k].session, e->name));
        if (there && e->start > s->today && event_concerns(e, athlete))
            name[count++] = e->name;
    }
    return count > 1 ? count : 0;
}

/* ---- one athlete ---- */

typedef struct {
    EachAthlete one;
    WeighedPlan plan;
} Slot;

/* Readiness that counts at an event on the way that the usual days are. */
static double readiness_of(const Case *c, const Usual *usual,
                           const Event *event) {
    Outlook o = {0};
    DrawScores draws;
    Score score;
    double readiness;
    outlook_build(usual, &c->daily, event, c->before, &o);
    best_taper_score(c, &o, &draws, &score);
    readiness = score_aim(&score, score.base);
    draw_scores_free(&draws);
    score_free(&score);
    outlook_free(&o);
    return readiness;
}

/* The plan's days, but before one event its own taper. */
static void stand_alone(const Case *c, const Event *event, const Assigned *a,
                        Usual *alone) {
    Case at = *c;
    Context of = *c->context;
    Prescription sheet;
    Option common;
    at.context = &of;
    at.event = event;
    at.outlook = (Outlook){0};
    outlook_build(&c->usual, &c->daily, event, c->before, &at.outlook);
    of.assigned = c->context->assigned;
    common = best_taper_common(&at, &a->option);
    prescription_build_team(&at.outlook, &c->usual, &a->option, &common,
                            &sheet);
    alone->other_from = event->start - (Date)at.outlook.window;
    alone->other_until = event->start;
    earlier_cuts(alone, event, sheet.cut, at.outlook.window);
    prescription_free(&sheet);
    outlook_free(&at.outlook);
}

/* What the taper of one event alone changes. */
static void compare_alone(const Case *c, const JointPeaks *p,
                          const double *handed, WeighedPlan *plan) {
    const Assigned *a = &c->context->assigned[c->athlete];
    Usual alone = c->usual;
    bool among = false;
    for (size_t k = 0; k < p->count; k++)
        among = among || p->peaks[k].event == a->event;
    if (!a->event || !among)
        return;
    alone.cut = mem_new(alone.cut_days, sizeof *alone.cut);
    memcpy(alone.cut, c->usual.cut, alone.cut_days * sizeof *alone.cut);
    stand_alone(c, a->event, a, &alone);
    alone.handed = true;
    plan->there = 0;
    for (size_t k = 0; k < p->count; k++) {
        const Event *event = p->peaks[k].event;
        double change = readiness_of(c, &alone, event) - handed[k];
        if (event == a->event) {
            plan->here = change;
        } else if (change < plan->there) {
            plan->there = change;
            plan->harmed = event;
        }
    }
    free(alone.cut);
}

/* What the days that are otherwise than in the files change. */
static void weigh_change(const Case *c, const JointPeaks *p,
                         const double *handed, WeighedPlan *plan) {
    Case before;
    Usual none, with;
    changed_before(c, &before);
    none = before.usual;
    none.cut = c->usual.cut; /* days of recovery */
    none.cut_from = c->usual.cut_from;
    none.cut_days = c->usual.cut_days;
    with = none;
    with.handed = true;
    plan->was = plan->change = 0;
    for (size_t k = 0; k < p->count; k++) {
        const Event *event = p->peaks[k].event;
        double was = readiness_of(&before, &with, event);
        plan->was += p->weight[k] * (was - readiness_of(&before, &none, event));
        plan->change += p->weight[k] * (handed[k] - was);
    }
    changed_before_free(&before);
}

/* `c`: with the aim that is asked for. A new plan's tapers are taken up by the
 * usual days of the case that it is made of. */
static void weigh(const Case *c, JointPeaks *p, WeighedPlan *plan) {
    Status status = {0};
    PlanJoint anew;
    Usual usual = c->usual;
    double *handed = mem_new(p->count, sizeof *handed);
    usual.handed = true;
    for (size_t k = 0; k < p->count; k++) {
        handed[k] = readiness_of(c, &usual, p->peaks[k].event);
        plan->gain += p->weight[k] * handed[k];
        plan->none +=
            p->weight[k] * readiness_of(c, &c->usual, p->peaks[k].event);
    }
    plan->gain -= plan->none;
    compare_alone(c, p, handed, plan);
    if (changed_asked(c->context->question))
        weigh_change(c, p, handed, plan);
    if (plan_joint_make(p->c, p, &anew, &status) == STATUS_OK)
        plan->events = p->count;
    for (size_t k = 0; k < p->count && plan->events > 0; k++)
        plan->renewed +=
            p->weight[k] * readiness_of(c, &anew.last.usual, p->peaks[k].event);
    plan->renewed -= plan->none;
    plan_joint_free(&anew);
    free(handed);
}

/* Nothing that is not followed is weighed. */
static void look_away(const JointPeaks *p, WeighedPlan *plan) {
    if (p->silent)
        plan->gain = plan->renewed = NAN;
}

static void weigh_one(void *with, EachAthlete *one) {
    Slot *slot = (Slot *)one;
    const Context *asked = with;
    Status status = {0};
    JointPeaks p;
    const char **name = mem_new(one->context.season->event_count, sizeof *name);
    Context standing = one->context, by_aim = one->context;
    Question q = *one->context.question, aim = q;
    Case c = one->c;
    q.ignore_plan = false;
    standing.question = &q;
    aim.aim = asked->question->aim;
    by_aim.question = &aim;
    c.context = &by_aim;
    slot->plan =
        (WeighedPlan){.here = NAN, .there = NAN, .was = NAN, .change = NAN};
    if (joint_record_events(&standing, one->c.athlete, name) > 0) {
        if (joint_peaks_build(&one->c, 1, &p, &status) == STATUS_OK &&
            p.count > 1) {
            weigh(&c, &p, &slot->plan);
            look_away(&p, &slot->plan);
        }
        joint_peaks_free(&p);
    }
    free(name);
}

void joint_record_look(JointPeaks *p) {
    const Season *s = p->c->context->season;
    Usual usual = p->c->usual;
    size_t rows;
    const HandedRow *row = season_handed(s, p->c->athlete, &rows);
    p->handed = row && !p->c->context->question->ignore_plan &&
                row[0].issued <= s->today && row[rows - 1].date > s->today;
    if (!p->handed)
        return;
    p->issued = row[0].issued;
    usual.handed = true;
    for (size_t k = 0; k < p->count; k++) {
        JointPeak *peak = &p->peaks[k];
        peak->handed =
            p->silent ? NAN
                      : readiness_of(p->c, &usual, peak->event) - peak->none;
    }
}

/* ---- all ---- */

static bool take_one(void *with, EachAthlete *one) {
    Context *d = with;
    size_t athlete = one->c.athlete;
    d->weighed[athlete] = ((Slot *)one)->plan;
    if (!d->kept[athlete] && one->context.models[one->c.model]->own)
        d->kept[athlete] = each_model(one);
    return true;
}

/* The events of anybody's plan, as a question names them; to be freed. */
static char **names_of(const Context *d, size_t *count) {
    const Season *s = d->season;
    const char **name = mem_new(s->event_count, sizeof *name);
    char **all = mem_new(s->event_count, sizeof *all);
    *count = 0;
    for (size_t i = 0; i < d->chosen_count; i++) {
        size_t of = joint_record_events(d, d->chosen[i], name);
        for (size_t k = 0; k < of; k++) {
            size_t at = 0;
            while (at < *count && !text_same(all[at], name[k]))
                at++;
            all[at] = (char *)name[k];
            *count += at == *count;
        }
    }
    free(name);
    return all;
}

void joint_record_find(Context *d) {
    Question q = *d->question;
    Context joint = *d, aside;
    const EachJob each = {.doing = "plans for several events looked at",
                          .need_event = true,
                          .slot = sizeof(Slot),
                          .work = weigh_one,
                          .take = take_one,
                          .with = d};
    q.events = names_of(d, &q.event_count);
    if (q.event_count > 0) {
        q.event = NULL;
        q.joint = q.ignore_plan = true;
        if (q.aim == AIM_LOWEST) /* no sum of days to search by */
            q.aim = AIM_MEAN;
        joint.question = &q;
        joint.earlier_count = 0;
        joint_squad_decide(&joint);
        d->kept = joint.kept;
        d->weighed = mem_new(d->season->athlete_count, sizeof *d->weighed);
        aside = joint;
        each_aside(d, &aside, &each);
        context_joint_free(&joint);
    }
    free(q.events);
}
