/* plan_csv: see plan_csv.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_csv.h"

#include "present/grid.h"

#include <math.h>

/* `issued` may be NULL. */
static void csv_row(const Case *c, const PlanRow *row, double cost,
                    const char *issued, FILE *to) {
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
    if (issued)
        csv_text(&csv, issued);
    csv_end(&csv);
}

void plan_csv_header(const Output *o) {
    output_header(o, PLAN_CSV_COLUMNS);
}

void plan_csv_print(const Plan *p, FILE *to) {
    for (size_t i = 0; i < p->sheet.count; i++)
        csv_row(p->taper.c, &p->sheet.rows[i], p->cost[i], NULL, to);
}

void plan_csv_issued(const Plan *p, Date issued, FILE *to) {
    char day[DATE_TEXT];
    for (size_t i = 0; i < p->sheet.count; i++)
        if (p->sheet.rows[i].date > issued)
            csv_row(p->taper.c, &p->sheet.rows[i], p->cost[i],
                    date_write(day, issued), to);
}
