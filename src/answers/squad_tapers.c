/* squad_tapers: see squad_tapers.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/squad_tapers.h"

#include "answers/best_taper.h"
#include "answers/squad_rows.h"
#include "base/mem.h"
#include "cases/each.h"
#include "cases/models.h"

#include <stdlib.h>

typedef struct {
    EachAthlete one;
    Status status;
    BestTaper taper;
} Slot;

/* ---- searching ---- */

static void search_one(void *with, EachAthlete *one) {
    Slot *slot = (Slot *)one;
    (void)with;
    best_taper_build(&one->c, &slot->taper, &slot->status);
}

static bool take_row(void *with, EachAthlete *one) {
    SquadRows *s = with;
    Slot *slot = (Slot *)one;
    if (slot->status.code == STATUS_OK) {
        SquadRow *row = squad_rows_add(s, &one->c, one->c.event);
        row->follows = slot->taper.follows;
        row->eased = case_eased(&one->c);
        row->idle = one->c.outlook.may_go <= 0 || case_off(&one->c);
        squad_rows_options(s, &slot->taper.search);
        squad_rows_keep(s, one);
    }
    best_taper_free(&slot->taper);
    return true;
}

static Assigned *decide(Context *d, const Assigned *before,
                        const size_t *changed, size_t count) {
    Assigned *into = mem_new(d->season->athlete_count, sizeof *into);
    SquadRows rows;
    const EachJob each = {.slot = sizeof(Slot),
                          .work = search_one,
                          .take = take_row,
                          .with = &rows};
    squad_rows_begin(&rows, d);
    rows.before = before;
    squad_rows_search(d, each, changed, count);
    squad_rows_decide(&rows, into);
    squad_rows_free(&rows);
    return into;
}

void squad_tapers_decide(Context *d) {
    const Question *q = d->question;
    Assigned *before = NULL;
    if (q->change_count > 0 || q->weekdays) { /* models of other days */
        models_free_kept(d);
        before = decide(d, NULL, d->chosen, 0);
        models_free_kept(d);
    }
    d->assigned = decide(d, before, d->chosen, d->chosen_count);
    d->assigned_before = before;
}
