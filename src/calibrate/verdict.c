/* verdict: see verdict.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "calibrate/verdict.h"

#include "base/mem.h"
#include "calibrate/rounds.h"
#include "calibrate/trail.h"

#include <math.h>
#include <stdlib.h>

enum { VERDICT = 640 /* shapes on which it rests */ };

/* Shapes that are asked, and the prior of each member over the share in which
 * they were chosen, whose sum over all shapes is `all`. */
typedef struct {
    size_t count, at[VERDICT];
    double prior[MEMBERS][VERDICT], all;
    double *like; /* [(kind * members + member) * VERDICT + shape] ln, errors
                     taken as normal */
} Jury;

static void choose_jury(const Trail *t, Jury *jury) {
    double *even = trail_half_evenly(t);
    Walk walk = {.5, 0, 0, NULL};
    jury->count = VERDICT;
    for (size_t i = 0; i < jury->count; i++) {
        size_t at = jury->at[i] = trail_walk(
            even, t->count, ((double)i + walk.offset) / VERDICT, &walk);
        for (size_t k = 0; k < t->members; k++)
            jury->prior[k][i] = exp(t->density[k * TRAIL_MOST + at]) /
                                t->share[at] / even[at] / VERDICT;
    }
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < t->count; i++)
            jury->all += exp(t->density[k * TRAIL_MOST + i]) / t->share[i];
    free(even);
}

/* Moves the cells to where sigma is under the shape of most weight. */
static void aim_at_best(Trail *t, const Jury *jury) {
    size_t best = jury->at[0];
    for (size_t i = 1; i < jury->count; i++)
        best = t->total[jury->at[i]] > t->total[best] ? jury->at[i] : best;
    for (size_t j = 0; j < t->a.kinds; j++)
        for (int again = 0; again < 3 && t->a.kind[j].data->count > 0;
             again++) {
            size_t k = trail_member(t, best, .5);
            double mean, square;
            Picked p;
            trail_pick(t, t->plain[j], best, j, &p);
            trail_pick_member(t, t->plain[j], k, &p);
            marginal_sigma(t->plain[j], p.cell[k], &mean, &square);
            marginal_aim(t->plain[j], mean,
                         1.6 * sqrt(fmax(0, square - mean * mean)));
        }
}

/* ln of the mean over the prior of the likelihood of some kinds together. */
static double ask(const Trail *t, const Jury *jury, size_t from, size_t to,
                  const double *mean_like) {
    double sum = 0, top = -INFINITY, value[MEMBERS][VERDICT];
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < jury->count; i++) {
            const double *like = jury->like + k * VERDICT + i;
            size_t next = t->members * VERDICT; /* kind */
            value[k][i] = like[from * next];
            for (size_t j = from + 1; j < to; j++)
                value[k][i] += rounds_given_way(like[j * next], mean_like[j]);
            top = fmax(top, value[k][i]);
        }
    for (size_t k = 0; k < t->members; k++)
        for (size_t i = 0; i < jury->count; i++)
            sum += jury->prior[k][i] * exp(value[k][i] - top);
    return top + log(sum / jury->all);
}

/* Those of a shape that was asked before are known. */
static void ask_each(Trail *t, Jury *jury) {
    jury->like = mem_new(t->a.kinds * t->members * VERDICT, sizeof(double));
    for (size_t i = 0; i < jury->count; i++) {
        double *like = jury->like + i;
        if (i == 0 || jury->at[i] != jury->at[i - 1])
            trail_likes(t, t->plain, jury->at[i], like, VERDICT);
        else
            for (size_t k = 0; k < t->a.kinds * t->members; k++)
                like[k * VERDICT] = (like - 1)[k * VERDICT];
    }
}

double verdict_bayes(Trail *t, double *kind_bayes) {
    Jury *jury = mem_new(1, sizeof *jury);
    double bayes = 0, *mean_like = mem_new(t->a.kinds, sizeof *mean_like);
    choose_jury(t, jury);
    aim_at_best(t, jury);
    ask_each(t, jury);
    for (size_t j = 0; j < t->a.kinds; j++) {
        mean_like[j] = ask(t, jury, j, j + 1, NULL);
        kind_bayes[j] = mean_like[j] - t->none[j];
        bayes -= t->none[j];
    }
    bayes += ask(t, jury, 0, t->a.kinds, mean_like);
    free(mean_like);
    free(jury->like);
    free(jury);
    return bayes;
}
