/* plan_csv: see plan_csv.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_csv.h"

#include "present/grid.h"

#include <math.h>

/* `issued` may be NULL; `joint` is looked at where it is not. */
static void csv_row(const char *name, const PlanRow *row, double cost,
                    const char *issued, bool joint, FILE *to) {
    char day[DATE_TEXT];
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, name);
    csv_text(&csv, date_write(day, row->date));
    csv_text(&csv, date_weekday_name(date_weekday(row->date)));
    csv_text(&csv, row->session);
    csv_text(&csv, row->kind == KINDS || row->event
                       ? "event"
                       : session_kind_names[row->kind]);
    csv_text(&csv, row->exercise ? row->exercise : "");
    csv_number(&csv, row->exercise ? row->sets : NAN);
    csv_number(&csv, row->reps);
    csv_number(&csv, row->kg);
    csv_number(&csv, row->minutes);
    csv_number(&csv, row->rpe);
    csv_number(&csv, 100 * row->cut);
    csv_number(&csv, row->load);
    csv_number(&csv, row->percent);
    csv_number(&csv, row->exercise ? row->usual_sets : NAN);
    csv_number(&csv, row->usual_minutes);
    csv_number(&csv, row->usual_load);
    csv_text(&csv, row->keep ? "yes" : "");
    csv_number(&csv, cost > 0 ? cost : NAN);
    if (issued) {
        csv_text(&csv, issued);
        csv_text(&csv, joint ? "yes" : "");
    }
    csv_end(&csv);
}

void plan_csv_issued(const Plan *p, Date issued, FILE *to) {
    char day[DATE_TEXT];
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].date > issued)
            csv_row(p->taper.c->name, &p->sheet.rows[i], p->cost[i],
                    date_write(day, issued), p->peak_count > 0, to);
}

void plan_csv_kept(const HandedRow *row, const Season *s, FILE *to) {
    char day[DATE_TEXT];
    const PlanRow as = {.date = row->date,
                        .session = row->session,
                        .exercise = row->exercise,
                        .kind = row->event ? KINDS : row->kind,
                        .keep = row->keep,
                        .sets = row->sets,
                        .reps = row->reps,
                        .kg = row->kg,
                        .minutes = row->minutes,
                        .rpe = row->rpe,
                        .cut = row->cut / 100,
                        .load = row->load,
                        .percent = row->percent,
                        .usual_sets = row->usual_sets,
                        .usual_minutes = row->usual_minutes,
                        .usual_load = row->usual_load};
    csv_row(s->athletes[row->athlete].name, &as, NAN,
            date_write(day, row->issued), row->joint, to);
}

static void squad_row(const Plan *p, FILE *to) {
    const BestTaper *v = &p->taper;
    const Found *f = &v->search.items[v->search.recommended];
    Date first = plan_first_cut(p, 1);
    char day[DATE_TEXT];
    Text spec = {0};
    Csv csv;
    option_write(&p->option, &spec);
    csv_begin(&csv, to);
    csv_text(&csv, v->c->name);
    csv_text(&csv, v->c->event->name);
    csv_text(&csv, date_write(day, v->c->event->start));
    csv_text(&csv, text_of(&spec));
    csv_text(&csv, first < v->c->event->start ? date_write(day, first) : "");
    csv_number(&csv, f->kept);
    csv_number(&csv, best_taper_percent(v, f->gain));
    csv_number(&csv, best_taper_percent(v, v->spread.gain_low));
    csv_number(&csv, best_taper_percent(v, v->spread.gain_high));
    csv_number(&csv, p->option.count ? v->spread.beats_none : NAN);
    csv_end(&csv);
    text_free(&spec);
}

/* A row an athlete: the taper, what it brings, and how sure that is. */
static void print_squad(const Plan *plans, size_t count, FILE *to) {
    csv_header(to, "athlete,event,start,option,first_day,kept,gain_percent,"
                   "gain_percent_low,gain_percent_high,beats_none");
    for (size_t i = 0; i < count; i++)
        squad_row(&plans[i], to);
}

void plan_csv(const Plan *plans, size_t count, const Output *o) {
    output_header(o, PLAN_CSV_COLUMNS);
    for (size_t k = 0; k < count; k++)
        for (size_t i = 0; i < plans[k].sheet.count; i++)
            csv_row(plans[k].taper.c->name, &plans[k].sheet.rows[i],
                    plans[k].cost[i], NULL, false, o->to);
    if (o->squad)
        print_squad(plans, count, o->squad);
}
