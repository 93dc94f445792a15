/* plan_handed: see plan_handed.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/plan_handed.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

PlanRow plan_handed_row(const HandedRow *row) {
    return (PlanRow){.date = row->date,
                     .session = row->session,
                     .exercise = row->exercise,
                     .kind = row->event ? KINDS : row->kind,
                     .keep = row->keep,
                     .sets = row->sets,
                     .usual_sets = row->usual_sets,
                     .reps = row->reps,
                     .kg = row->kg,
                     .usual_kg = row->kg,
                     .percent = row->percent,
                     .minutes = row->minutes,
                     .usual_minutes = row->usual_minutes,
                     .rpe = row->rpe,
                     .cut = row->cut / 100,
                     .load = row->load,
                     .usual_load = row->usual_load};
}

static void take_row(const Season *s, const HandedRow *from,
                     Prescription *sheet) {
    PlanRow *row = prescription_add(sheet, from->date, from->session);
    *row = plan_handed_row(from);
    row->event =
        from->event ? season_event(s, from->athlete, from->session) : NULL;
    if (!isfinite(row->usual_minutes))
        row->usual_minutes = row->minutes;
    if (!isfinite(row->usual_load))
        row->usual_load = row->load;
}

static void take_as_is(Date date, const PlannedSession *session,
                       Prescription *sheet) {
    PlanRow *row = prescription_add(sheet, date, session->session);
    row->kind = session->kind;
    row->keep = session->keep;
    row->minutes = row->usual_minutes = session->minutes;
    row->rpe = session->rpe;
    row->load = row->usual_load = session->load;
}

/* One day: the plan's own rows, unless it is carried out otherwise. */
static void take_day(const Case *own, Date date, Prescription *s) {
    PlannedSession sessions[USUAL_MOST];
    const Season *season = own->context->season;
    size_t rows, count = usual_day(&own->usual, date, sessions);
    const HandedRow *row = season_handed(season, own->athlete, &rows);
    double planned = 0, done = 0;
    for (size_t i = 0; i < rows; i++)
        if (row[i].date == date && !row[i].exercise && !row[i].event)
            planned += row[i].load;
    for (size_t i = 0; i < count; i++)
        done += sessions[i].load;
    if (fabs(planned - done) > 1e-9 * (1 + planned)) {
        for (size_t i = 0; i < count; i++)
            take_as_is(date, &sessions[i], s);
        return;
    }
    for (size_t i = 0; i < rows; i++)
        if (row[i].date == date)
            take_row(season, &row[i], s);
}

void plan_handed_take(Plan *p) {
    const Case *c = p->taper.c;
    const Event *event = c->event;
    Case own;
    if (!best_taper_stands(&p->taper) || !handed_case(c, &own))
        return;
    p->handed = true;
    p->sheet.count = 0;
    for (Date date = c->context->season->today + 1;
         date < event->start + event->days; date++)
        take_day(&own, date, &p->sheet);
    free(p->cost);
    p->cost = mem_new(p->sheet.count, sizeof *p->cost);
    p->before = NULL;
    p->from = c->context->season->today + 1;
    handed_case_free(&own);
}
