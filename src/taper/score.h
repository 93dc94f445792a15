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
                       v >= u: what both cuts take away together; NULL: linear,
                       or one of the draws */
    bool borrowed;  /* the arrays lie in a block of DrawScores */
    bool linear;    /* if not, sum and moment stay 0, and of a draw drop too: it
                       is run anew from the first day that may be cut */
    const Outlook *outlook;
    ResponseParams params;
    double shift;      /* [readiness] of a draw, added to what it says */
    size_t from, to;   /* steps from the first day that may be cut to the
                          event's last reading */
    KernelState start; /* at step `from` */
    double *work;      /* score_work() values, shared by draws */
} Score;

/* The outlook must outlive the score. */
void score_build(const Outlook *outlook, const ResponseParams *params, Aim aim,
                 Score *score);
void score_free(Score *score);

/* What the day u before the event takes away from all rows together if left out
 * whole [readiness]; of kinds that are not linear with nothing else cut. */
double score_drop(const Score *score, size_t u);

/* What cuts do under one draw of a kind that is not linear, as `drop` and
 * `bend` above, of `days` rows; added. */
void score_bend(const Score *score, double *drop, double *bend);

/* Readiness that counts, of one value a day of the event. */
double score_aim(const Score *score, const double *readiness);

/* Readiness that counts under the cuts, cut[u - 1] for the day u before. */
double score_cuts(const Score *score, const double *cut);

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

/* Readiness and gain under each draw. */
typedef struct {
    size_t count;  /* draws; 0 when nothing is uncertain */
    Score *score;  /* one each */
    double *block; /* their arrays */
    double *work;  /* their workspace */
} DrawScores;

typedef struct {
    double readiness_low, readiness_high; /* 5 % and 95 % points */
    double gain_low, gain_high;
    double beats_none; /* share of draws with a gain above 0 */
} Spread;

void draw_scores_build(const Outlook *outlook, const Draws *draws, Aim aim,
                       double anchor, DrawScores *scores);
void draw_scores_free(DrawScores *scores);

/* The mean of all draws, of which there is at least one, as a score of its own:
 * the readiness expected of any taper. Of the lowest of several days that is
 * the lowest of the readiness expected on each. To be freed. */
void draw_scores_mean(const DrawScores *scores, Score *mean);

/* Gain of an option under each draw, into gain[count]. */
void draw_scores_gains(const DrawScores *scores, const Option *option,
                       double *gain);

/* Share of draws in which one option's gains are above another's; a tie counts
 * half. NAN without draws. */
double draw_scores_beat(const double *one, const double *other, size_t draws);

/* What the draws say of an option; all NAN without draws. `work` holds
 * 2 x count values. */
Spread draw_scores_option(const DrawScores *scores, const Option *option,
                          double *work);
/* The same of cuts, cut[u - 1] for the day u before. */
Spread draw_scores_cuts(const DrawScores *scores, const double *cut,
                        double *work);

#endif
