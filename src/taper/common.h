/* common: one answer for a squad: as few common tapers as the evidence allows.
 *
 * Coaches run sessions, not a dozen private plans. Sought are the fewest tapers
 * such that together at most 5 % of the gain that is possible (the sum of what
 * each athlete's best option gains) is lost, and nobody loses over 15 % of
 * their own. For a number of tapers that is the p-median problem (Hakimi 1964,
 * Oper Res 12:450-459; from memory); it is solved by adding the taper that
 * helps most and exchanging one at a time (Teitz, Bart 1968, Oper Res
 * 16:955-961; from memory), from several starts, and in full for one taper and
 * where there is little to try.
 *
 * Then each taper gives way to the most preferred one whose gain for its
 * athletes is within 5 % of the best for them and which costs none of them over
 * 15 %: inside the published band first (8-14 days at 41-60 % less: Bosquet et
 * al. 2007, Med Sci Sports Exerc 39:1358-1365), then fewer parts, then lengths
 * and cuts on a coarse scale, then the one that cuts least.
 *
 * Where nothing is known of the squad, the short and gentle end of the band is
 * for all: 8 days at half volume, or what is nearest to it within the limits.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_COMMON_H
#define TAPER_COMMON_H

#include "taper/option.h"

typedef enum {
    COMMON_FEWEST,     /* as few as the limits above allow */
    COMMON_BOUNDED,    /* at most `most`, even if more is lost then */
    COMMON_INDIVIDUAL, /* each athlete for themselves */
    COMMON_UNKNOWN     /* no evidence: the gentle end of the band */
} CommonRule;

enum { COMMON_MOST = 26 /* tapers that are shared; A to Z */ };

typedef struct {
    size_t athletes, options;  /* 1 or more each */
    const Option *option;      /* no two alike */
    const double *const *gain; /* [athlete][option] expected, over no taper, in
                                  a unit that all athletes share; NAN: not
                                  within their limits. At least one is for
                                  each */
    CommonRule rule;
    size_t most; /* of COMMON_BOUNDED, 1 or more */
} CommonTask;

typedef struct {
    size_t tapers;  /* different ones */
    size_t *option; /* [tapers] that of most athletes first */
    size_t *taper;  /* [athletes] which each one has */
    double lost;    /* share of what is possible together; 0 if nothing is */
    double worst;   /* largest share that somebody loses of their own */
} Common;

#define COMMON_LOST .05 /* of what is possible together */
#define COMMON_OWN .15  /* of what is possible for one */
#define COMMON_EQUAL .05

void common_find(const CommonTask *task, Common *common);
void common_free(Common *common);

/* Inside the published band: a step of 8-14 days at 41-60 % less. */
bool common_published(const Option *option);

/* Which of two options is preferred where gains are equal: below 0 the first;
 * 0 only if they are alike. For qsort(). */
int common_prefer(const void *one, const void *other);

/* Are two options alike? */
bool common_same(const Option *a, const Option *b);

#endif
