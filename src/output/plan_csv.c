/* plan_csv: see plan_csv.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_csv.h"

#include "answers/plan_handed.h"
#include "present/grid.h"

#include <math.h>

static void csv_row(const char *name, const PlanRow *row, double cost,
                    Csv *csv) {
    char day[DATE_TEXT];
    csv_text(csv, name);
    csv_text(csv, date_write(day, row->date));
    csv_text(csv, date_weekday_name(date_weekday(row->date)));
    csv_text(csv, row->session);
    csv_text(csv, row->kind == KINDS || row->event
                      ? "event"
                      : session_kind_names[row->kind]);
    csv_text(csv, row->exercise ? row->exercise : "");
    csv_number(csv, row->exercise ? row->sets : NAN);
    csv_number(csv, row->reps);
    csv_number(csv, row->kg);
    csv_number(csv, row->minutes);
    csv_number(csv, row->rpe);
    csv_number(csv, 100 * row->cut);
    csv_number(csv, row->load);
    csv_number(csv, row->percent);
    csv_number(csv, row->exercise ? row->usual_sets : NAN);
    csv_number(csv, row->usual_minutes);
    csv_number(csv, row->usual_load);
    csv_text(csv, row->keep ? "yes" : "");
    csv_number(csv, cost > 0 ? cost : NAN);
}

/* When it was issued, and what was forecast then. */
static void csv_record(const HandedRow *as, Csv *csv) {
    char day[DATE_TEXT];
    csv_text(csv, date_write(day, as->issued));
    csv_text(csv, as->joint ? "yes" : "");
    csv_text(csv, as->version ? as->version : "");
    csv_number(csv, as->forecast);
    csv_number(csv, as->low);
    csv_number(csv, as->high);
    csv_text(csv, as->test ? as->test : "");
}

static HandedRow record_of(const Plan *p, const PlanRow *row, Date issued) {
    HandedRow as = {.issued = issued,
                    .joint = p->peak_count > 0,
                    .forecast = NAN,
                    .low = NAN,
                    .high = NAN};
    for (size_t k = 0; k < plan_events(p); k++) {
        Foretold told = plan_foretold(p, k);
        if (row->event != plan_event(p, k) || row->date != row->event->start)
            continue;
        as.version = VERSION;
        as.forecast = told.value;
        as.low = told.low;
        as.high = told.high;
        as.test = (char *)told.test;
    }
    return as;
}

void plan_csv_issued(const Plan *p, Date issued, FILE *to) {
    for (size_t i = 0; i < p->sheet.count; i++) {
        const PlanRow *row = &p->sheet.rows[i];
        HandedRow as = record_of(p, row, issued);
        Csv csv;
        if (row->date <= issued)
            continue;
        csv_begin(&csv, to);
        csv_row(p->taper.c->name, row, p->cost[i], &csv);
        csv_record(&as, &csv);
        csv_end(&csv);
    }
}

void plan_csv_kept(const HandedRow *row, const Season *s, FILE *to) {
    Csv csv;
    const PlanRow as = plan_handed_row(row);
    csv_begin(&csv, to);
    csv_row(s->athletes[row->athlete].name, &as, NAN, &csv);
    csv_record(row, &csv);
    csv_end(&csv);
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
        for (size_t i = 0; i < plans[k].sheet.count; i++) {
            Csv csv;
            csv_begin(&csv, o->to);
            csv_row(plans[k].taper.c->name, &plans[k].sheet.rows[i],
                    plans[k].cost[i], &csv);
            csv_end(&csv);
        }
    if (o->squad)
        print_squad(plans, count, o->squad);
}
