/* plan_csv: see plan_csv.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_csv.h"

#include "present/grid.h"

#include <math.h>

static void csv_row(const Case *c, const PlanRow *row, double cost, FILE *to) {
    char day[DATE_TEXT];
    Csv csv;
    csv_begin(&csv, to);
    csv_text(&csv, c->name);
    csv_text(&csv, date_write(day, row->date));
    csv_text(&csv, date_weekday_name(date_weekday(row->date)));
    csv_text(&csv, row->session);
    csv_text(&csv, row->event ? "event" : session_kind_names[row->kind]);
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
    csv_end(&csv);
}

void plan_csv_header(const Output *o) {
    output_header(o,
                  "athlete,date,weekday,session,kind,exercise,sets,reps,kg,"
                  "minutes,rpe,cut,load,percent_1rm,usual_sets,usual_minutes,"
                  "usual_load,keep,cost_if_missed");
}

void plan_csv_print(const Plan *p, FILE *to) {
    for (size_t i = 0; i < p->sheet.count; i++)
        csv_row(p->taper.c, &p->sheet.rows[i], p->cost[i], to);
}
