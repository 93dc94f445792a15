/* verdict: one athlete's search with what the draws say of it; for taper,
 * compare and plan.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef COMMANDS_VERDICT_H
#define COMMANDS_VERDICT_H

#include "commands/desk.h"

typedef struct {
    const Case *c;
    Score score; /* the mean over the draws, if there are any */
    Search search;
    DrawScores draws;
    double *work;    /* for draw_scores_option() */
    size_t longest;  /* [d] longest taper there is time for */
    double possible; /* [readiness] gain of the ceiling */
    Spread spread;   /* of the recommended option */
} Verdict;

/* Searches; the case has days to taper in. */
StatusCode verdict_build(const Case *c, Verdict *v, Status *status);
void verdict_free(Verdict *v);

/* Moves a verdict to where its case has been moved. */
void verdict_move(Verdict *from, const Case *c, Verdict *to);

/* Keeps what a squad's table and its sentences need: of the options no taper,
 * the best, the recommended one and number `also`; no draws. */
void verdict_slim(Verdict *verdict, size_t also);

/* The score by which a case is searched, over an outlook of it, and what it is
 * the mean of: the scores of its draws, if there are any. Both to be freed. */
void verdict_score(const Case *c, const Outlook *outlook, DrawScores *draws,
                   Score *score);

/* Days before the event in which a session, as planned, takes more readiness
 * then than it gives, over all draws together; 0: none, or a model in which
 * that hangs on the other days. */
size_t verdict_cut_days(const Verdict *v);

/* Share of draws in which the first option gains more than the other; a tie
 * counts half. NAN without draws. */
double verdict_beats(const Verdict *v, const Option *a, const Option *b);

/* Readiness as the test shows it (case_shown()). */
Spread verdict_spread(const Verdict *v, const Option *option);
Spread verdict_spread_cuts(const Verdict *v, const double *cut);

/* The option that a spec names: `best` and `recommended` are the search's. */
Option verdict_option(const Search *search, const char *spec);

/* Gain as per cent of readiness without a taper; NAN when the model's scale
 * means nothing. */
double verdict_percent(const Verdict *v, double gain);

/* "Regional cup, Sat 25 Apr 2026, in 27 days", appended. */
void event_words(const Case *c, Text *text);

/* "per cent", "-" without a value, for a cell. Returns `buffer`. */
const char *percent_cell(char buffer[FIGURE_TEXT], double share);

/* Prints the plain sentences on what is peculiar to this answer: a gain beyond
 * published experience, no gain at all, a single event day, and so on. */
void verdict_print_warnings(const Verdict *v, FILE *to);

/* Prints what was searched, and whether the limits are the default ones. */
void verdict_print_limits(const Verdict *v, FILE *to);

/* The size of gains, for figure(). */
double verdict_scale(const Verdict *v);

#endif
