/* best_taper: one athlete's search with what the draws say of it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_BEST_TAPER_H
#define ANSWERS_BEST_TAPER_H

#include "answers/handed.h"
#include "answers/team_names.h"
#include "taper/search.h"

typedef struct {
    const Case *c;
    Score score; /* the mean over the draws, if there are any */
    Search search;
    DrawScores draws;
    double *work;    /* for draw_scores_option() */
    size_t longest;  /* [d] longest taper there is time for */
    double possible; /* [readiness] gain of the ceiling */
    Spread spread;   /* of the recommended option */
    Handed handed;   /* the plan that was handed out */
    TeamNames team;  /* of the sessions that a taper may cut */
    bool follows;    /* most of what may be cut is the team's */
    bool trains_on;  /* in sessions of their own, since the recommended option,
                        the team's, takes more than it gives */
    double together; /* [readiness] gain if sessions of the team are cut by the
                        common taper, where that is another; NAN */
    double kept;     /* share of the planned load that the recommended option
                        keeps, as `together` lets it be carried out */
    size_t low;      /* [d] of over half cut, as it is carried out, in the 28
                        days that have most of them, until the event, tapers
                        before others on the way included; */
    Date low_from;   /* the first of the 28 */
    bool given;      /* which was not found but asked for */
    bool alone;      /* and shapes the team's sessions too */
} BestTaper;

/* The score by which a case is searched, over an outlook of it, and what it is
 * the mean of: the scores of its draws, if there are any. Both to be freed. */
void best_taper_score(const Case *c, const Outlook *outlook, DrawScores *draws,
                      Score *score);

/* Readiness as the test shows it (case_shown()). */
Spread best_taper_spread(const BestTaper *v, const Option *option);

Spread best_taper_spread_cuts(const BestTaper *v, const double *cut);

/* Searches; the case has days to taper in. */
StatusCode best_taper_build(const Case *c, BestTaper *v, Status *status);

/* Moves a taper to where its case has been moved. */
void best_taper_move(BestTaper *from, const Case *c, BestTaper *to);

/* Keeps what a squad's table and its sentences need: of the options no taper,
 * the best, the recommended one and number `also`; no draws. */
void best_taper_slim(BestTaper *taper, size_t also);

/* Is most of what may be cut in an outlook of the case the team's? */
bool best_taper_follows(const Case *c, const Outlook *outlook);

/* The recommended option as it is for sessions that are not the team's. */
Option best_taper_own(const BestTaper *v);

/* Takes an option that was asked for as the one to recommend, so that all that
 * is told and drawn is about it; `alone`: the team's sessions follow it too. */
void best_taper_take(BestTaper *v, const Option *option, bool alone);

/* What the recommended option leaves out of each day before the event, the
 * team's sessions by the common taper [window]. */
void best_taper_cuts(const BestTaper *v, double *cut);

/* Gain of the recommended option as far as the team's sessions let it be
 * carried out [readiness]. */
double best_taper_gain(const BestTaper *v);

/* Is a gain less than published tapers brought (0.5 to 6 % of readiness,
 * Mujika, Padilla 2003)? Never where the level is not known. */
bool best_taper_hardly_matters(const BestTaper *v, double gain);

/* Is a new plan worth more than the one handed out, by more than one may lose
 * for few tapers (COMMON_OWN of what it gains) and can see, where a taper
 * matters or that plan harms, or does that one break a limit asked for? */
bool best_taper_replan(const BestTaper *v);

/* Is the plan handed out, which no new one would better, forecast to take more
 * than it gives, as far as its gain is shown? */
bool best_taper_takes(const BestTaper *v);

/* Is the plan handed out to be carried on, and the answer about no other? */
bool best_taper_stands(const BestTaper *v);

/* The case with the days that are to be carried out before what `cut` leaves
 * out of them [window]: those of the plan handed out where it stands, else the
 * usual ones less best_taper_cuts(). To be freed. */
void best_taper_carried(const BestTaper *v, Case *c, double *cut);
void best_taper_carried_free(const BestTaper *v, Case *c);

void best_taper_free(BestTaper *v);

/* Can gains of the two be added? */
bool best_taper_same_unit(const BestTaper *a, const BestTaper *b);

/* What was decided for a case with the others (answers/squad_tapers.h) and is
 * therefore recommended; NULL: nothing. */
const Assigned *best_taper_assigned(const Case *c);

/* Was it decided without the models, since nothing tells more than the
 * published evidence? */
bool best_taper_unknown(const BestTaper *v);

/* Was it decided without the models, since training explains so little of the
 * tests that there are? */
bool best_taper_silent(const BestTaper *v);

/* The taper by which the sessions of the team are cut on the way to the same
 * event (answers/squad_tapers.h); `own` where nothing was decided. */
Option best_taper_common(const Case *c, const Option *own);

/* Days before the event in which a session, as planned, takes more readiness
 * then than it gives, over all draws together; 0: none, or a model in which
 * that hangs on the other days. */
size_t best_taper_cut_days(const BestTaper *v);

/* Share of draws in which the first option gains more than the other; a tie
 * counts half. NAN without draws. */
double best_taper_beats(const BestTaper *v, const Option *a, const Option *b);

/* The option that a spec names: `best` and `recommended` are the search's. */
Option best_taper_option(const Search *search, const char *spec);

/* Gain as per cent of readiness without a taper; NAN when the model's scale
 * means nothing. */
double best_taper_percent(const BestTaper *v, double gain);

/* The size of gains, for words_figure(). */
double best_taper_scale(const BestTaper *v);

/* The best option for which `fits` says yes; 0 if none. */
size_t best_taper_where(const Search *s, bool (*fits)(const Option *));

/* Within the published band: 8-14 days, 41-60 % (Bosquet et al. 2007, Med Sci
 * Sports Exerc 39:1358-1365). */
bool best_taper_published(const Option *o);

#endif
