/* plan_words: a plan's sessions, weeks and outcome in words.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_WORDS_H
#define OUTPUT_PLAN_WORDS_H

#include "answers/plan.h"
#include "output/words.h"

enum {
    PLAN_COST_SHOWN = 3 /* [%] of the possible gain from which a session is
                           marked */
};

/* "Court: 90 -> 45 min, rating 5", appended. */
void plan_words_session(const PlanRow *row, Text *text);

/* "Back squat: 5 -> 2 x 5 at 80 % of 1RM", appended. */
void plan_words_exercise(const PlanRow *row, Text *text);

/* Decimals that the plan's loads deserve. */
int plan_words_digits(const Plan *plan);

/* The taper that the rows are cut by, "from Wed 22 Apr, 3 days of full rest;
 * ...": where the team's sessions have another, both, or the team's alone if
 * there are no others. */
void plan_words_lead(const Plan *plan, Text *text);

/* Where the plan begins behind another event: whose plan holds until then, and
 * what is common on the day after. Appended; nothing elsewhere. */
void plan_words_before(const Plan *plan, Text *text);

/* Which sessions the squad of the first of some plans has together, and by
 * which taper they are cut; with `coach` how to give each their own; nothing
 * where there are none. Appended. */
void plan_words_team(const Plan *plans, size_t count, bool coach, Text *text);

/* What rows from..to-1 usually are, time, sets and kilograms moved ("usual
 * 2572; 395 -> 210 min; 41 -> 36 sets"), appended. */
void plan_words_total(const Plan *plan, size_t from, size_t to, Text *text);

/* A note where sets fell but the work did not, NULL elsewhere. */
const char *plan_words_note(const Plan *plan, size_t from, size_t to);

/* What the rounded plan brings, with its readiness and how sure that is;
 * nothing where no taper gains. Appended. */
void plan_words_outcome(const Plan *plan, Text *text);

/* A cost as it is marked: "8 %", "> 99 %". */
const char *plan_words_cost(char buffer[FIGURE_TEXT], double cost);

/* What the sessions' marks of what missing them costs mean, appended; nothing
 * where no plan has one. */
void plan_words_marks(const Plan *plans, size_t count, Text *text);

/* What some athletes do until the first cut of them all: "as usual" or as the
 * blocks say, days of recovery, and until when somebody is off or returning. */
void plan_words_usual(const Plan *p, size_t count, Date first, Text *words);

#endif
