/* plan_csv: a plan as CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_CSV_H
#define OUTPUT_PLAN_CSV_H

#include "answers/plan.h"
#include "output/output.h"

#define PLAN_CSV_COLUMNS                                                       \
    "athlete,date,weekday,session,kind,exercise,sets,reps,kg,minutes,rpe,cut," \
    "load,percent_1rm,usual_sets,usual_minutes,usual_load,keep,cost_if_missed"

/* What stands behind them in a plan handed out. */
#define PLAN_CSV_ISSUED                                                        \
    ",issued,joint,version,forecast,forecast_low,forecast_high,forecast_test"

/* All of them, and where a workbook wants it the squad's. */
void plan_csv(const Plan *plans, size_t count, const Output *o);
/* Rows of the days after the one on which the plan was issued, with that day
 * behind them: a day that is over is the log's. The first day of each event
 * tells what is forecast for it. */
void plan_csv_issued(const Plan *p, Date issued, FILE *to);
/* A row of the plan handed out before, as it was. */
void plan_csv_kept(const HandedRow *row, const Season *season, FILE *to);

#endif
