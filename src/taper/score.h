/* score: readiness at an event under any taper.
 *
 * In linear models readiness on a day of the event is that without a taper
 * minus the sum over the days before of cut x load x influence. Prefix sums of
 * load x influence make every constant or straight-line taper a matter of a
 * few additions. Where fatigue grows with recent load, readiness is quadratic
 * in the cuts (taper/dose.h). Averages over draws are of the same form, so that
 * a search over all of them costs no more than one over a single model.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_SCORE_H
#define TAPER_SCORE_H

#include "calibrate/draws.h"
#include "taper/option.h"
#include "taper/outlook.h"

/* Which readiness over the event's days counts. */
typedef enum { AIM_FIRST, AIM_MEAN, AIM_LOWEST, AIM_LAST, AIMS } Aim;

/* "first", "mean", "lowest", "last"; ends with NULL. */
extern const char *const aim_names[];

typedef struct {
    Aim aim;
    size_t days;    /* rows below: each day of the event for AIM_LOWEST, else
                       one, in which its days are summed up as the aim asks */
    size_t window;  /* [d] before it */
    double *base;   /* [readiness] of each row without a taper */
    double *drop;   /* [readiness] drop[e * window + u - 1]: what day u before
                       the event takes away from event day e if left out whole;
                       below 0 where leaving it out would help */
    double *sum;    /* [readiness] sum[e * (window + 1) + k]: of the k days
                       nearest the event */
    double *moment; /* the same of u x drop */
    double *bend;   /* [readiness] bend[(e * window + u - 1) * window + v - 1],
                       v >= u: what both cuts take away together; NULL: linear
                     */
    bool linear;    /* if not, sum and moment stay 0 */
    const Outlook *outlook;
    double *work; /* [window] */
} Score;

/* The outlook must outlive the score. */
void score_build(const Outlook *outlook, const ResponseParams *params, Aim aim,
                 Score *score);
void score_free(Score *score);

/* Room, all 0, for a score whose days, window and `linear` are set; and the
 * prefix sums of one whose drops are. */
void score_room(Score *score);
void score_sums(Score *score);

/* What the day u before the event takes away from all rows together if left out
 * whole [readiness]; of kinds that are not linear with nothing else cut. */
double score_drop(const Score *score, size_t u);

/* Readiness that counts, of one value a day of the event. */
double score_aim(const Score *score, const double *readiness);

/* Readiness that counts under the cuts, cut[u - 1] for the day u before. */
double score_cuts(const Score *score, const double *cut);

/* The same where all cuts beyond the `days` nearest are 0, of a kind that is
 * not linear. */
double score_near(const Score *score, const double *cut, size_t days);

/* The same of `count` sequences, one after the other, of `days` cuts each. */
void score_near_all(const Score *score, const double *cuts, size_t days,
                    size_t count, double *readiness);

/* The same for an option, by prefix sums where its parts allow. */
double score_option(const Score *score, const Option *option);

/* Readiness of all draws over a timeline of the outlook, as kernel_batch()
 * gives it. With `anchor` finite each draw is shifted so that its reading on
 * the last logged day equals it: where no test ties a model to a level, only
 * changes since today can be told. */
void draw_readiness(const Outlook *outlook, const Timeline *timeline,
                    const Draws *draws, ReadWhen when, double anchor,
                    double *readiness);

/* Reading of the last logged day under one parameter set [readiness]. */
double score_today(const Outlook *outlook, const ResponseParams *params);

/* Readiness and gain under each of many draws of one kind. Arrays hold the
 * values of all draws side by side, those of draw i at [... * count + i]. Where
 * fatigue grows with recent load, what two days' cuts take away together
 * (taper/dose.h's bend) is the nearer one's turn times what is left of the
 * farther one's load, so that one pass over the days adds it up. */
typedef struct {
    size_t count; /* draws; 0 when nothing is uncertain */
    Aim aim;
    size_t days, window; /* as in Score */
    bool linear;
    const Outlook *outlook;
    double *base; /* [readiness] of each row without a taper */
    double *none; /* [readiness] that counts without a taper */
    double *drop; /* [readiness] of row e and day u: [e * window + u - 1] */
    double *turn; /* [readiness/load] as drop; NULL: linear */
    double *kept; /* [u - 1]: of a load's memory, from the day before to day u;
                     NULL: linear */
    double *work; /* [window + count] */
} DrawScores;

typedef struct {
    double readiness_low, readiness_high; /* 5 % and 95 % points */
    double gain_low, gain_high;
    double beats_none; /* share of draws with a gain above 0 */
} Spread;

void draw_scores_build(const Outlook *outlook, const Draws *draws, Aim aim,
                       double anchor, DrawScores *scores);
void draw_scores_free(DrawScores *scores);

/* score_drop() of draw `i`. */
double draw_scores_drop(const DrawScores *scores, size_t i, size_t u);

/* The mean of all draws, of which there is at least one, as a score of its own:
 * the readiness expected of any taper. Of the lowest of several days that is
 * the lowest of the readiness expected on each. To be freed. */
void draw_scores_mean(const DrawScores *scores, Score *mean);

/* Gain under each draw, into gain[count]: of cuts, cut[u - 1] for the day u
 * before, and of an option. With `none` of a draw it is readiness. */
void draw_scores_change(const DrawScores *scores, const double *cut,
                        double *gain);
void draw_scores_gains(const DrawScores *scores, const Option *option,
                       double *gain);

/* Share of draws in which one option's gains are above another's; a tie counts
 * half. NAN without draws. */
double draw_scores_beat(const double *one, const double *other, size_t draws);

/* What the draws say of an option; all NAN without draws. `work` holds
 * 2 x count values. */
Spread draw_scores_option(const DrawScores *scores, const Option *option,
                          double *work);
/* Of its gain alone, sooner, with readiness NAN; and beats_none alone. `work`
 * holds count values. */
Spread draw_scores_gain(const DrawScores *scores, const Option *option,
                        double *work);
double draw_scores_helps(const DrawScores *scores, const Option *option,
                         double *work);
/* The same of cuts, cut[u - 1] for the day u before. */
Spread draw_scores_cuts(const DrawScores *scores, const double *cut,
                        double *work);

#endif
