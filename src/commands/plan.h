/* plan: what one athlete does each day until the event; for plan and report.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_PLAN_H
#define COMMANDS_PLAN_H

#include "commands/verdict.h"
#include "taper/prescription.h"

typedef struct {
    Verdict verdict;
    Option option;
    bool given; /* by --option */
    Prescription sheet;
    double ideal, rounded; /* [readiness] */
    double *cost; /* [rows] share of the possible gain that missing a session
                     costs; 0: none, or not to be told */
} Plan;

enum {
    PLAN_COST_SHOWN = 3 /* [%] of the possible gain from which a session is
                           marked */
};

StatusCode plan_make(const Case *c, Plan *plan, Status *status);
void plan_free(Plan *plan);

/* "Court: 90 -> 45 min, rating 5", appended. */
void plan_session_words(const PlanRow *row, Text *text);
/* "Back squat: 5 -> 2 x 5 at 80 % of 1RM", appended. */
void plan_exercise_words(const PlanRow *row, Text *text);

/* First row behind the calendar week (from Monday) of row `from`. */
size_t plan_week_end(const Plan *plan, size_t from);

/* Load that rows from..to-1 add up to, and in words what it usually is, time,
 * sets and kilograms moved ("usual 2572; 395 -> 210 min; 41 -> 36 sets"). */
double plan_week_load(const Plan *plan, size_t from, size_t to);
void plan_total_words(const Plan *plan, size_t from, size_t to, Text *text);

/* A note where sets fell but the work did not, NULL elsewhere. */
const char *plan_note(const Plan *plan, size_t from, size_t to);

/* What the rounded plan brings, with its readiness and how sure that is;
 * nothing where no taper gains. Appended. */
void plan_outcome_words(const Plan *plan, Text *text);

/* What the sessions' marks of what missing them costs mean, appended; nothing
 * where no plan has one. */
void plan_mark_words(const Plan *plans, size_t count, Text *text);
/* A cost as it is marked: "8 %", "> 99 %". */
const char *plan_cost_text(char buffer[FIGURE_TEXT], double cost);
/* Are there exercises? */
bool plan_lists(const Plan *plan);

/* Decimals that the plan's loads deserve. */
int plan_load_digits(const Plan *plan);

#endif
