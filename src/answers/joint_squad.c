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
    JointKept **found;    /* [athletes] the context's */
} Squads;

/* What an athlete could do before one event. */
typedef struct {
    const Event *event;
    bool follows, idle;
    Search list;
} Ahead;

typedef struct {
    EachAthlete one;
    Ahead *ahead;
    size_t count;
    JointKept *kept; /* NULL: nothing was found */
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

/* Everything of an athlete that is found. */
static void keep(Slot *slot, const JointPeaks *p, Search *lists) {
    const Case *c = &slot->one.c;
    slot->kept = joint_peaks_keep(p);
    slot->count = p->count;
    slot->ahead = mem_new(p->count, sizeof *slot->ahead);
    for (size_t k = 0; k < p->count; k++) {
        const Outlook *own = &p->events[k].own;
        Case at = *c;
        at.event = p->peaks[k].event;
        slot->ahead[k] = (Ahead){.event = at.event,
                                 .follows = best_taper_follows(c, own),
                                 .idle = own->may_go <= 0 || case_off(&at),
                                 .list = lists[k]};
    }
}

static void search_one(void *with, EachAthlete *one) {
    const Squads *s = with;
    uint32_t squad = one->context.season->athletes[one->c.athlete].squad;
    JointPeaks p;
    Status unsaid = {0}; /* said with the answer */
    Search *lists = NULL;
    if (joint_peaks_search(&one->c, !s->known[squad], &p, &unsaid) ==
            STATUS_OK &&
        p.count > 0) {
        Limits asked = case_limits(&one->c);
        Limits limits = joint_floor_limits(&p.floor, &asked);
        lists = mem_new(p.count, sizeof *lists);
        if (joint_lists(p.events, p.count, p.silent ? NULL : p.weight, &limits,
                        p.joint.recommended, lists, &unsaid) == STATUS_OK)
            keep((Slot *)one, &p, lists);
    }
    free(lists);
    joint_peaks_free(&p);
}

static bool take_rows(void *with, EachAthlete *one) {
    Squads *s = with;
    Slot *slot = (Slot *)one;
    const Season *season = one->context.season;
    size_t athlete = one->c.athlete;
    for (size_t k = 0; k < slot->count; k++) {
        Ahead *b = &slot->ahead[k];
        SquadRow *row = squad_rows_add(&s->rows, &one->c, b->event);
        row->place =
            (size_t)(b->event - season->events) * season->athlete_count +
            athlete;
        row->follows = b->follows;
        row->idle = b->idle;
        squad_rows_options(&s->rows, &b->list);
        search_free(&b->list);
    }
    squad_rows_keep(&s->rows, one);
    s->found[athlete] = slot->kept;
    free(slot->ahead);
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
    s.found = d->joint_kept =
        mem_new(season->athlete_count, sizeof(JointKept *));
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
