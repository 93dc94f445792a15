/* groups: how few plans serve a squad.
 *
 * Each athlete loses something under each option: what her own best option
 * gains beyond it. Sought are at most so many options that the sum of what each
 * athlete loses under the one that suits her best is least (the p-median
 * problem: Hakimi 1964, Oper Res 12:450-459; from memory). For one and two
 * plans all sets are tried, and for more as long as there are few options; else
 * plans are exchanged one by one until nothing gets better, from many starts
 * (Teitz, Bart 1968, Oper Res 16:955-961; from memory), which may miss the
 * best.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef TAPER_GROUPS_H
#define TAPER_GROUPS_H

#include <stddef.h>

enum { GROUPS_MOST = 8 /* plans */ };

/* One value for each athlete and option: value[athlete * options + option]. */
typedef struct {
    size_t athletes, options; /* 1 or more each */
    const double *loss;       /* 0 or more, in any unit all athletes share;
                                 INFINITY: not for this athlete. One option at
                                 least is for everybody */
} LossTable;

typedef struct {
    size_t plans;               /* 1 to GROUPS_MOST, as few as lose least */
    size_t option[GROUPS_MOST]; /* of each plan; the plan of most athletes
                                   first */
    size_t *plan;               /* [athletes] index of the plan of each */
    double total;               /* sum of what is lost */
} Groups;

/* At most `most` plans (1 to GROUPS_MOST). */
void groups_find(const LossTable *table, size_t most, Groups *groups);
void groups_free(Groups *groups);

/* Gives each plan the option that keeps most (the sum over its athletes of
 * kept[athlete * options + option]) among those under which none of them loses
 * more than slack[athlete] or than she does now. */
void groups_keep_most(const LossTable *table, const double *kept,
                      const double *slack, Groups *groups);

#endif
