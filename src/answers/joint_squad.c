/* joint_squad: see joint_squad.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/joint_squad.h"

#include "answers/best_taper.h"
#include "answers/joint_peaks.h"
#include "answers/squad_rows.h"
#include "base/mem.h"

#include <stdlib.h>

typedef struct {
    SquadRows rows;
    bool *known, *tested; /* [squads] */
} Squads;

typedef struct {
    EachAthlete one;
    Status status;
    JointPeaks p;
    Search *list; /* of each event */
} Slot;

/* ---- what is known ---- */

static bool take_evidence(void *with, EachAthlete *one) {
    Squads *s = with;
    squad_rows_add(&s->rows, &one->c, NULL);
    squad_rows_keep(&s->rows, one);
    return true;
}

static void find_known(Context *d, Squads *s) {
    const EachJob each = {
        .slot = sizeof(EachAthlete), .take = take_evidence, .with = s};
    squad_rows_begin(&s->rows, d);
    squad_rows_search(d, each, d->chosen, d->chosen_count);
    for (size_t i = s->rows.rows; i-- > 0;) { /* the first of each comes last */
        size_t squad = d->season->athletes[s->rows.row[i].athlete].squad;
        s->known[squad] = squad_rows_known(&s->rows, i, &s->tested[squad]);
    }
    squad_rows_free(&s->rows);
}

/* ---- searching ---- */

static void search_one(void *with, EachAthlete *one) {
    const Squads *s = with;
    Slot *slot = (Slot *)one;
    const Question *q = one->context.question;
    JointPeaks *p = &slot->p;
    uint32_t squad = one->context.season->athletes[one->c.athlete].squad;
    const double *weight;
    Limits limits;
    if (joint_peaks_search(&one->c, !s->known[squad], p, &slot->status) !=
        STATUS_OK)
        return;
    weight = p->silent ? NULL : p->weight;
    limits = joint_floor_limits(&p->floor, &q->limits);
    slot->list = mem_new(p->count, sizeof *slot->list);
    joint_lists(p->events, p->count, weight, &limits, p->joint.recommended,
                slot->list, &slot->status);
}

static bool take_rows(void *with, EachAthlete *one) {
    Squads *s = with;
    Slot *slot = (Slot *)one;
    const Season *season = one->context.season;
    bool good = slot->status.code == STATUS_OK;
    for (size_t k = 0; k < slot->p.count && slot->list; k++) {
        Case c = one->c;
        SquadRow *row;
        c.event = slot->p.peaks[k].event;
        if (good) {
            row = squad_rows_add(&s->rows, &one->c, c.event);
            row->place =
                (size_t)(c.event - season->events) * season->athlete_count +
                c.athlete;
            row->follows = best_taper_follows(&one->c, &slot->p.events[k].own);
            row->idle = slot->p.events[k].own.may_go <= 0 || case_off(&c);
            squad_rows_options(&s->rows, &slot->list[k]);
        }
        search_free(&slot->list[k]);
    }
    if (good)
        squad_rows_keep(&s->rows, one);
    free(slot->list);
    joint_peaks_free(&slot->p);
    return true;
}

void joint_squad_decide(Context *d) {
    const Season *season = d->season;
    Squads s = {.known = mem_new(season->squad_names.count, sizeof *s.known),
                .tested = mem_new(season->squad_names.count, sizeof *s.tested)};
    const EachJob each = {.slot = sizeof(Slot),
                          .work = search_one,
                          .take = take_rows,
                          .with = &s};
    d->joint =
        mem_new(season->athlete_count * season->event_count, sizeof *d->joint);
    find_known(d, &s);
    squad_rows_begin(&s.rows, d);
    s.rows.known = s.known;
    s.rows.tested = s.tested;
    squad_rows_search(d, each, d->chosen, d->chosen_count);
    squad_rows_decide(&s.rows, d->joint);
    squad_rows_free(&s.rows);
    free(s.known);
    free(s.tested);
}

Context joint_squad_of(const Context *d, const Event *event) {
    Context of = *d;
    of.assigned = d->joint + (size_t)(event - d->season->events) *
                                 d->season->athlete_count;
    return of;
}
